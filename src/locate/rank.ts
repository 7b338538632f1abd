import { logAdd, logSumExp } from '../base/logSum.ts'
import type { Network } from '../network/compile.ts'
import { evidenceWorkspace, judge, prepareLevel, type Measurement, type PreparedLevel } from './evidence.ts'
import { badJointShift, dependsOnSoil, risesOhm, soundShift } from './hypothesis.ts'
import type { Candidates, LevelModel } from './levels.ts'
import { severitiesOf, type Severity } from './severities.ts'

/** One way of being bad of one candidate, with its share of the posterior. */
export interface RankedState {
  readonly severity: Severity
  /** ln of prior times evidence, soil levels summed. */
  readonly logWeight: number
  /** The soil level that explains the readings best under this hypothesis. */
  readonly level: number
}

export interface RankedJoint {
  /** Index into the candidates. */
  readonly candidate: number
  readonly edge: number
  readonly logWeight: number
  readonly states: readonly RankedState[]
}

export interface Ranking {
  /** ln of the evidence that nothing visible is bad. */
  readonly soundLogWeight: number
  readonly soundLevel: number
  /** Best first. */
  readonly joints: readonly RankedJoint[]
  /** ln of the sum of all weights. */
  readonly logTotal: number
  readonly levels: readonly PreparedLevel[]
}

/**
 * A severity that moves the readings, taken together, by less than this many of their own standard deviations
 * is not something these readings can show: it is left out of the posterior and counted under coverage.
 */
export const leastShift = 2
/** Hypotheses this far (in nats) below the best at the screening are not weighed further. */
const screenNats = 20

/** Euclidean norm of a rise in units of each reading's own standard deviation. */
function shiftSize(rise: Float64Array, ownSdOhm: Float64Array): number {
  let sum = 0
  for (let p = 0; p < rise.length; p++) sum += (rise[p] / ownSdOhm[p]) ** 2
  return Math.sqrt(sum)
}

interface Inputs {
  readonly network: Network
  readonly candidates: Candidates
  readonly models: readonly LevelModel[]
  readonly levels: readonly PreparedLevel[]
  readonly centre: number
  readonly measurement: Measurement
}

/** Severities of a candidate that the readings can show, with their prior. */
function visibleSeverities(
  { network, candidates, models, centre, measurement }: Inputs,
  k: number,
): Severity[] {
  const edge = candidates.edge[k]
  const n = measurement.observations.length
  const rate = network.defectRate[edge]
  const prior = Math.log(rate / (1 - rate))
  return severitiesOf(network.medianOhm[edge])
    .filter(({ addedOhm }) => {
      const rises = risesOhm(models[centre], k, addedOhm, n)
      return shiftSize(rises, measurement.ownSdOhm) >= leastShift
    })
    .map(({ addedOhm, logPrior }) => ({ addedOhm, logPrior: logPrior + prior }))
}

/**
 * Weighs the hypothesis that nothing is bad against every candidate and severity: a screening at the
 * stated soil first, then, for what is left, the sum over soil levels and contact states. Deterministic.
 */
export function* rankJoints(
  network: Network,
  candidates: Candidates,
  models: readonly LevelModel[],
  measurement: Measurement,
): Generator<number, Ranking> {
  const n = measurement.observations.length
  const levels = models.map((model) => prepareLevel(model, measurement))
  const centre = models.findIndex((model) => model.lnSoil === 0)
  const inputs: Inputs = { network, candidates, models, levels, centre, measurement }
  const work = evidenceWorkspace(levels[0].finite.length)

  const weigh = (k: number, addedOhm: number): { log: number; level: number } => {
    const at = (level: number) =>
      k < 0 ? soundShift(models, level, n) : badJointShift(models, level, k, addedOhm, n)
    const shift = at(centre)
    const middle = judge(levels[centre], measurement, shift, work, { quick: false })
    if (!dependsOnSoil(shift, middle.sdOhm)) return { log: middle.logEvidence, level: centre }
    let log = -Infinity
    let best = -Infinity
    let bestLevel = centre
    levels.forEach((level, index) => {
      const judged = index === centre ? middle : judge(level, measurement, at(index), work, { quick: false })
      const weight = models[index].logWeight + judged.logEvidence
      log = logAdd(log, weight)
      if (weight > best) {
        best = weight
        bestLevel = index
      }
    })
    return { log, level: bestLevel }
  }

  const sound = weigh(-1, 0)
  const screened: { k: number; severity: Severity; quick: number }[] = []
  let best = sound.log
  for (let k = 0; k < candidates.edge.length; k++) {
    for (const severity of visibleSeverities(inputs, k)) {
      const shift = badJointShift(models, centre, k, severity.addedOhm, n)
      const quick = judge(levels[centre], measurement, shift, work, { quick: true }).logEvidence
      screened.push({ k, severity, quick: quick + severity.logPrior })
      best = Math.max(best, quick + severity.logPrior)
    }
    yield (0.6 * (k + 1)) / candidates.edge.length
  }
  const kept = screened.filter(({ quick }) => quick > best - screenNats)
  const states = new Map<number, RankedState[]>()
  let done = 0
  for (const { k, severity } of kept) {
    const { log, level } = weigh(k, severity.addedOhm)
    const list = states.get(k) ?? []
    list.push({ severity, logWeight: log + severity.logPrior, level })
    states.set(k, list)
    yield 0.6 + (0.4 * ++done) / kept.length
  }
  const joints = [...states]
    .map(([candidate, list]): RankedJoint => ({
      candidate,
      edge: candidates.edge[candidate],
      logWeight: logSumExp(list.map((state) => state.logWeight)),
      states: list,
    }))
    .sort((a, b) => b.logWeight - a.logWeight || a.edge - b.edge)
  const logTotal = logSumExp([sound.log, ...joints.map((joint) => joint.logWeight)])
  return { soundLogWeight: sound.log, soundLevel: sound.level, joints, logTotal, levels }
}
