import { ok, type Result } from '../base/result.ts'
import { locate } from '../locate/locate.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { answerCheck } from './answerCheck.ts'
import { answerCompare } from './answerCompare.ts'
import { answerCoverage } from './answerCoverage.ts'
import { answerCurrentMap } from './answerCurrentMap.ts'
import { answerCurrents } from './answerCurrents.ts'
import { answerDrillAsk } from './answerDrillAsk.ts'
import { answerDrillCall } from './answerDrillCall.ts'
import { answerDrillReading } from './answerDrillReading.ts'
import { answerDrillResume } from './answerDrillResume.ts'
import { answerDrillStart } from './answerDrillStart.ts'
import { answerExpect } from './answerExpect.ts'
import { answerFaultCurrent } from './answerFaultCurrent.ts'
import { answerFaultSweep } from './answerFaultSweep.ts'
import { answerGroundStand } from './answerGroundStand.ts'
import { answerGroundVolts } from './answerGroundVolts.ts'
import { answerJoint } from './answerJoint.ts'
import { answerJointSight } from './answerJointSight.ts'
import { answerJudge } from './answerJudge.ts'
import { answerLesson } from './answerLesson.ts'
import { answerNext } from './answerNext.ts'
import { answerPart } from './answerPart.ts'
import { answerPlan } from './answerPlan.ts'
import { answerResistance } from './answerResistance.ts'
import { answerSample } from './answerSample.ts'
import { answerWalk } from './answerWalk.ts'
import { basisOf } from './basis.ts'
import { networkAnswerOf } from './networkAnswer.ts'
import type { Progress } from './progress.ts'
import type { AnswerTo, RequestName, Requests } from './requests.ts'
import { preparedOf, type SiteCache } from './siteCache.ts'

type Job<N extends RequestName> = Generator<Progress, Result<AnswerTo<N>, readonly Problem[]>>

/** One answerer per request: a request without one does not compile. */
const answerers: {
  readonly [N in RequestName]: (input: Requests[N][0], site: Site, cache: SiteCache) => Job<N>
} = {
  check: answerCheck,
  resistance: answerResistance,
  currents: answerCurrents,
  judge: answerJudge,
  compare: answerCompare,
  next: answerNext,
  currentMap: answerCurrentMap,
  inspectJoint: answerJoint,
  inspectPart: answerPart,
  expect: answerExpect,
  coverage: answerCoverage,
  plan: answerPlan,
  sample: answerSample,
  jointSight: answerJointSight,
  faultCurrent: answerFaultCurrent,
  faultSweep: answerFaultSweep,
  groundVolts: answerGroundVolts,
  groundStand: answerGroundStand,
  drillStart: answerDrillStart,
  drillReading: answerDrillReading,
  drillCall: answerDrillCall,
  drillAsk: answerDrillAsk,
  drillResume: answerDrillResume,
  lesson: answerLesson,
  walk: answerWalk,
  *network(input, site, cache) {
    const prepared = yield* preparedOf(site.drawing, input, cache)
    return prepared.ok ? ok(networkAnswerOf(prepared.value, basisOf(site))) : prepared
  },
  *locate(input, site, cache) {
    const prepared = yield* preparedOf(site.drawing, input, cache)
    return prepared.ok ? ok(yield* locate(site, prepared.value, cache.locate)) : prepared
  },
}

/**
 * Answers one request about one site, pausing every few milliseconds with how far it has come, so that its
 * caller can look up, draw or stop. Problems come back as values; what throws is a bug. Requests on the
 * same drawing share what was compiled and factored through the cache.
 */
export function run<N extends RequestName>(
  name: N,
  input: Requests[N][0],
  site: Site,
  cache: SiteCache,
): Job<N> {
  return answerers[name](input, site, cache)
}
