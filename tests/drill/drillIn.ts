import { finish } from '../../src/engine/progress.ts'
import type { AnswerTo, RequestName, Requests } from '../../src/engine/requests.ts'
import { run } from '../../src/engine/run.ts'
import { emptySiteCache, preparedOf, type SiteCache } from '../../src/engine/siteCache.ts'
import type { DrillHiding } from '../../src/model/drill.ts'
import { defaultKits, firstLeads } from '../../src/model/kits.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { newSite } from '../../src/model/newSite.ts'
import type { PreparedNetwork } from '../../src/network/prepare.ts'
import type { NetworkInput } from '../../src/engine/requests.ts'
import { fieldDrawing } from '../generator/fieldDrawing.ts'

export const asFoundInput: NetworkInput = { countIncidental: true, asBuilt: true }

export const [twoWireKit, fourWireKit] = defaultKits
export const [longLead] = firstLeads

const ids = {
  site: '00000000-0000-4000-8000-000000000011',
  revision: '00000000-0000-4000-8000-000000000012',
}

/** The field as drawn, with no record. */
export function fieldSite(): Site {
  const empty = newSite({ id: ids.site, revision: ids.revision, name: 'Practice', units: 'metric' })
  return { ...empty, drawing: fieldDrawing(ids) }
}

/** One question, answered to its end; trouble is thrown. */
export function answerOf<N extends RequestName>(
  name: N,
  input: Requests[N][0],
  site: Site,
  cache: SiteCache,
): AnswerTo<N> {
  const result = finish(run(name, input, site, cache))
  if (!result.ok) throw new Error(JSON.stringify(result.error))
  return result.value
}

export function problemCodes<N extends RequestName>(
  name: N,
  input: Requests[N][0],
  site: Site,
  cache: SiteCache,
): readonly string[] {
  const result = finish(run(name, input, site, cache))
  return result.ok ? [] : result.error.map(({ code }) => code)
}

export const bySeed = (seed: number): DrillHiding => ({ by: 'seed', seed })

export function startInput(hiding: DrillHiding, kit = twoWireKit) {
  const mayAsk = { suspects: true, next: true }
  return { ...asFoundInput, hiding, kit, lead: kit.method === 'twoWire' ? longLead : null, mayAsk }
}

export function preparedIn(site: Site, cache = emptySiteCache()): PreparedNetwork {
  const prepared = finish(preparedOf(site.drawing, asFoundInput, cache))
  if (!prepared.ok) throw new Error('the site compiles')
  return prepared.value
}
