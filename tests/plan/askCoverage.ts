import { present } from '../../src/base/assert.ts'
import { finish } from '../../src/engine/progress.ts'
import type { AnswerTo, RequestName, Requests } from '../../src/engine/requests.ts'
import { run } from '../../src/engine/run.ts'
import { emptySiteCache } from '../../src/engine/siteCache.ts'
import { jointIndexOf } from '../../src/layout/jointIndex.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { parseJointAddress } from '../../src/model/address.ts'
import { defaultKits } from '../../src/model/kits.ts'
import { sights, type CoverageAnswer, type CoverageInput, type Sight } from '../../src/model/planning.ts'
import type { Site } from '../../src/model/schema/site.ts'

export const twoWire = present(defaultKits[0], 'a two-wire kit')
export const fourWire = present(defaultKits[1], 'a four-wire kit')

/** Asks one question of a site that is known to be in order. */
export function answerOf<N extends RequestName>(name: N, input: Requests[N][0], site: Site): AnswerTo<N> {
  const answer = finish(run(name, input, site, emptySiteCache()))
  return present(answer.ok ? answer.value : null, `${name} is answered`)
}

export function coverage(site: Site, input: Partial<CoverageInput>): CoverageAnswer {
  const usual = { countIncidental: true, asBuilt: false, severity: 'open', pairs: [], kit: fourWire } as const
  return answerOf('coverage', { ...usual, lead: longLead, ...input }, site)
}

export const longLead = { id: 'long', name: '', lengthM: 50, areaMm2: 1.5, material: 'copper' } as const

/** How a joint's going bad would show, by its address. */
export function sightOf(site: Site, answer: CoverageAnswer, address: string): Sight {
  return sights[answer.sight[jointNumber(site, address)]]
}

export function jointNumber(site: Site, address: string): number {
  const indexed = indexSite(site.drawing)
  const index = present(indexed.ok ? indexed.value : null, 'the site can be indexed')
  return jointIndexOf(index, present(parseJointAddress(address), `${address} is an address`))
}
