import { staged } from '../base/portion.ts'
import { ok, type Result } from '../base/result.ts'
import { compareReadings } from '../compare/compareReadings.ts'
import type { ComparisonAnswer } from '../model/comparison.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { basisOf } from './basis.ts'
import type { Progress } from './progress.ts'
import type { NetworkInput } from './requests.ts'
import { preparedOf, type SiteCache } from './siteCache.ts'

/** Every reading of the record against those that should read alike. */
export function* answerCompare(
  input: NetworkInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<ComparisonAnswer, readonly Problem[]>> {
  const prepared = yield* preparedOf(site.drawing, input, cache)
  if (!prepared.ok) return prepared
  const answer = yield* staged('readings', compareReadings(site, prepared.value))
  return ok({ basis: basisOf(site), ...answer })
}
