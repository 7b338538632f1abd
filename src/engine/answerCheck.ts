import { ok, type Result } from '../base/result.ts'
import type { CheckAnswer } from '../model/answers.ts'
import { siteNotices } from '../model/checkSite.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import type { Progress } from './progress.ts'
import type { NetworkInput } from './requests.ts'
import { networkOf, type SiteCache } from './siteCache.ts'

/**
 * Counts of a site that opened, and notices such as addresses in plans and record that name nothing in the
 * drawing: those are told but do not make it invalid. A site that compiles to no network is not valid.
 */
export function* answerCheck(
  input: NetworkInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<CheckAnswer, readonly Problem[]>> {
  const compiled = yield* networkOf(site.drawing, input, cache)
  const visits = site.record.filter(({ entry }) => entry === 'visit').length
  const readings = site.record.filter(({ entry }) => entry === 'reading').length
  const known = { name: site.name, rows: site.drawing.rows.length, visits, readings }
  if (!compiled.ok) return ok({ ...notValid(compiled.error), ...known })
  const { index, metal, electrical, remoteEarth, edgeCount, notes } = compiled.value
  // Remote earth is no part: alone on its island, or in its metal section, it is not counted.
  const isEarthAlone = electrical.islands.size[electrical.islands.of[remoteEarth]] === 1
  return ok({
    valid: true,
    problems: siteNotices(site),
    ...known,
    tables: index.tableCount,
    parts: index.partCount,
    joints: edgeCount,
    metalSections: metal.islands.count - 1,
    electricalIslands: electrical.islands.count - (isEarthAlone ? 1 : 0),
    notes,
  })
}

/** The answer for what could not be opened or compiled. */
export function notValid(problems: readonly Problem[]): CheckAnswer {
  return {
    valid: false,
    problems,
    name: '',
    rows: 0,
    tables: 0,
    parts: 0,
    joints: 0,
    metalSections: 0,
    electricalIslands: 0,
    visits: 0,
    readings: 0,
    notes: [],
  }
}
