import { logAdd, logSumExp } from '../base/logSum.ts'
import {
  evidenceWorkspace,
  prepareLevel,
  stateReadings,
  sumStated,
  type EvidenceWorkspace,
  type Measurement,
  type PreparedLevel,
  type Stated,
} from './evidence.ts'
import { badJointShift, dependsOnSoil, soundShift } from './hypothesis.ts'
import type { Candidates, LevelModel } from './levelModel.ts'
import type { Severity } from './severities.ts'
import { severityFamily, stateSeverity, turnTo, type SeverityFamily } from './severityFamily.ts'

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

/** Hypotheses this far (in nats) below the best at the screening are not weighed further. */
const screenNats = 20

interface Inputs {
  readonly models: readonly LevelModel[]
  readonly levels: readonly PreparedLevel[]
  /** For each soil level, the severities of the candidate that is in hand. */
  readonly families: readonly SeverityFamily[]
  readonly centre: number
  readonly measurement: Measurement
  readonly work: EvidenceWorkspace
}

/** A hypothesis before the sum over contact states, and what its readings owe to the soil. */
interface StatedAt {
  readonly stated: Stated
  /** The first is that of the soil. */
  readonly columns: readonly Float64Array[]
}

/** Candidate `k` bad by `addedOhm` at one soil level; nothing bad where k is negative. */
function stateAt(
  { models, levels, families, measurement }: Inputs,
  k: number,
  addedOhm: number,
  at: number,
): StatedAt {
  if (k >= 0) {
    turnTo(families[at], k)
    const stated = stateSeverity(families[at], addedOhm)
    if (stated) return { stated, columns: [stated.soilOhm] }
  }
  const n = measurement.observations.length
  const shift = k < 0 ? soundShift(models, at, n) : badJointShift(models, at, k, addedOhm, n)
  return { stated: stateReadings(levels[at], measurement, shift), columns: shift.columns }
}

/** ln of the evidence, soil levels and contact states summed, and the level that explains the readings best. */
function weigh(inputs: Inputs, k: number, addedOhm: number): { log: number; level: number } {
  const { models, centre, work } = inputs
  const { stated, columns } = stateAt(inputs, k, addedOhm, centre)
  const isOfSoil = dependsOnSoil({ columns }, stated.sdOhm)
  const middle = sumStated(stated, work, { quick: false }).logEvidence
  if (!isOfSoil) return { log: middle, level: centre }
  let log = -Infinity
  let best = -Infinity
  let bestLevel = centre
  models.forEach(({ logWeight }, at) => {
    const evidence =
      at === centre
        ? middle
        : sumStated(stateAt(inputs, k, addedOhm, at).stated, work, { quick: false }).logEvidence
    const weight = logWeight + evidence
    log = logAdd(log, weight)
    if (weight > best) {
      best = weight
      bestLevel = at
    }
  })
  return { log, level: bestLevel }
}

/**
 * Weighs the hypothesis that nothing is bad against every candidate and severity: a screening at the
 * stated soil first, then, for what is left, the sum over soil levels and contact states. `choices`: severities per
 * candidate. Deterministic.
 */
export function* rankJoints(
  choices: readonly (readonly Severity[])[],
  candidates: Candidates,
  models: readonly LevelModel[],
  measurement: Measurement,
): Generator<number, Ranking> {
  const levels = models.map((model) => prepareLevel(model, measurement))
  const inputs: Inputs = {
    models,
    levels,
    families: levels.map((level, at) => severityFamily(models, at, level, measurement)),
    centre: models.findIndex((model) => model.lnSoil === 0),
    measurement,
    work: evidenceWorkspace(levels[0].finite.length),
  }
  const sound = weigh(inputs, -1, 0)
  const screened: { k: number; severity: Severity; quick: number }[] = []
  let best = sound.log
  for (let k = 0; k < candidates.edge.length; k++) {
    for (const severity of choices[k]) {
      const { stated } = stateAt(inputs, k, severity.addedOhm, inputs.centre)
      const quick = sumStated(stated, inputs.work, { quick: true }).logEvidence
      screened.push({ k, severity, quick: quick + severity.logPrior })
      best = Math.max(best, quick + severity.logPrior)
    }
    yield (0.6 * (k + 1)) / candidates.edge.length
  }
  const kept = screened.filter(({ quick }) => quick > best - screenNats)
  const states = new Map<number, RankedState[]>()
  let done = 0
  for (const { k, severity } of kept) {
    const { log, level } = weigh(inputs, k, severity.addedOhm)
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
