import { fail, type Result } from '../base/result.ts'
import { finish } from '../engine/progress.ts'
import type { AnswerTo, RequestName, Requests } from '../engine/requests.ts'
import { run } from '../engine/run.ts'
import { emptySiteCache, type SiteCache } from '../engine/siteCache.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { shownName } from './readSite.ts'

/**
 * Asks one question about a site that was read from a file; problems that name no file get this one. `cache`: what earlier
 * questions about the same site have left.
 */
export function ask<N extends RequestName>(
  name: N,
  input: Requests[N][0],
  site: Site,
  file: string,
  cache: SiteCache = emptySiteCache(),
): Result<AnswerTo<N>, readonly Problem[]> {
  const answer = finish(run(name, input, site, cache))
  if (answer.ok) return answer
  const inFile = ({ where, ...rest }: Problem) =>
    ({ ...rest, where: { file: shownName(file), ...where } }) as Problem
  return fail(answer.error.map(inFile))
}
