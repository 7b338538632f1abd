import { ok, type Result } from '../base/result.ts'
import { nextActions } from '../locate/next/next.ts'
import type { NextAnswer } from '../model/answers.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import type { Progress } from './progress.ts'
import type { NetworkInput } from './requests.ts'
import { preparedOf, type SiteCache } from './siteCache.ts'

/** What to do next, on what a ranking of the same site has left in the cache. */
export function* answerNext(
  input: NetworkInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<NextAnswer, readonly Problem[]>> {
  const prepared = yield* preparedOf(site.drawing, input, cache)
  return prepared.ok ? ok(yield* nextActions(site, prepared.value, cache.locate)) : prepared
}
