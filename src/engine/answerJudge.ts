import { ok, type Result } from '../base/result.ts'
import { judgeReadings } from '../compare/judgeReading.ts'
import type { JudgeAnswer } from '../model/answers.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { basisOf } from './basis.ts'
import type { Progress } from './progress.ts'
import type { NetworkInput } from './requests.ts'
import { preparedOf, type SiteCache } from './siteCache.ts'

/** Every reading of the record against the criterion of its pair. */
export function* answerJudge(
  input: NetworkInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<JudgeAnswer, readonly Problem[]>> {
  const prepared = yield* preparedOf(site.drawing, input, cache)
  if (!prepared.ok) return prepared
  return ok({ basis: basisOf(site), readings: judgeReadings(prepared.value, site.record) })
}
