import { staged } from '../base/portion.ts'
import { fail, ok, type Result } from '../base/result.ts'
import type { JointSightAnswer, JointSightInput } from '../model/planning.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { jointSightOf } from '../plan/jointSight.ts'
import { planTerms, resolvePairs } from './answerCoverage.ts'
import { basisOf } from './basis.ts'
import type { Progress } from './progress.ts'
import { resolveJoint } from './resolveJoint.ts'
import { preparedOf, type SiteCache } from './siteCache.ts'

/** How one joint would show in a set of pairs: in which of them, or why in none. */
export function* answerJointSight(
  input: JointSightInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<JointSightAnswer, readonly Problem[]>> {
  const prepared = yield* preparedOf(site.drawing, input, cache)
  if (!prepared.ok) return prepared
  const { index, edgeOfJoint } = prepared.value.network
  const joint = resolveJoint(index, input.joint)
  if (!joint.ok) return fail([joint.error])
  const pairs = resolvePairs(index, input.pairs)
  if (!pairs.ok) return pairs
  const terms = yield* staged('coverage', planTerms(input, site, prepared.value, cache))
  const sight = yield* staged('coverage', jointSightOf(terms, pairs.value, edgeOfJoint[joint.value]))
  return ok({ basis: basisOf(site), joint: input.joint, severity: input.severity, ...sight })
}
