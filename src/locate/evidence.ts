import { assert } from '../base/assert.ts'
import { logAdd } from '../base/logSum.ts'
import { logNormalDensity } from '../base/normal.ts'
import { choleskyInPlace, inverseFromCholesky, logDeterminant } from '../base/symmetric.ts'
import type { Kit } from '../model/schema/record.ts'
import { assumptions } from '../reading/assumptions.ts'
import { logPoorContactDensity, soundContact } from '../reading/contact.ts'
import { gainSd } from '../reading/kitError.ts'
import type { NullingInterval } from '../reading/nulling.ts'
import {
  statesWorkspace,
  sumOverContactStates,
  type StatesSum,
  type StatesWorkspace,
} from './contactStates.ts'
import type { LevelModel } from './levelModel.ts'
import type { Observation } from './observations.ts'
import { logOverRun, overRunsOf, type OverRun } from './overRange.ts'
import { timesPrecision, widened, type Precision } from './precision.ts'
import type { ReadingStates } from './readingStates.ts'

/** Chance that a reading is wrong in some way that is not modelled: a swapped label, a slip of the pen. */
export const otherwiseWrong = 0.002
/** A reading moved and widened by less than this share of its spread keeps the spoiled density of a sound array. */
const unmovedShare = 0.01
const leastLog = Math.log(Number.MIN_VALUE)

/** What adds to the network in every reading, whatever the hypothesis: contact, digits, leads. */
export interface Measurement {
  readonly observations: readonly Observation[]
  readonly intervals: readonly NullingInterval[]
  readonly kits: readonly Kit[]
  /** Per observation: the number of its instrument among `kits`. */
  readonly kitOf: Uint16Array
  /** Mean of contact and lead offset per reading, in ohm. */
  readonly addedMeanOhm: Float64Array
  /** Standard deviation per reading of what it shares with no other. */
  readonly ownSdOhm: Float64Array
  /** n × n covariance of contact, digits, offsets and drifts. */
  readonly covariance: Float64Array
  readonly overRuns: readonly OverRun[]
}

/** Sets up contact, digits, offsets and drifts; offset and drift are shared within a nulling interval. */
export function describeMeasurement(
  observations: readonly Observation[],
  intervals: readonly NullingInterval[],
): Measurement {
  const n = observations.length
  const addedMeanOhm = new Float64Array(n)
  const ownSdOhm = new Float64Array(n)
  const covariance = new Float64Array(n * n)
  observations.forEach((o, p) => {
    const contactSd = o.hasContact ? soundContact.sdOhm : 0
    ownSdOhm[p] = Math.hypot(contactSd, o.digitsSdOhm, o.extraSdOhm)
    addedMeanOhm[p] = o.hasContact ? soundContact.meanOhm : 0
    covariance[p * n + p] += ownSdOhm[p] ** 2
    if (o.interval < 0) return
    const interval = intervals[o.interval]
    addedMeanOhm[p] += interval.offsetMeanOhm
    observations.forEach((other, q) => {
      if (other.interval !== o.interval) return
      covariance[p * n + q] +=
        interval.offsetSdOhm ** 2 +
        interval.driftSdOhmPerHour ** 2 * o.hoursAfterNulling * other.hoursAfterNulling
    })
  })
  const kits = [...new Set(observations.map((o) => o.kit))]
  const kitOf = Uint16Array.from(observations, (o) => kits.indexOf(o.kit))
  const overRuns = overRunsOf(observations)
  return { observations, intervals, kits, kitOf, addedMeanOhm, ownSdOhm, covariance, overRuns }
}

/** How a hypothesis moves the readings away from those of a sound array. */
export interface Shift {
  /** Rise of each pair's resistance in ohm; Infinity where the break leaves no path at all. */
  readonly riseOhm: Float64Array
  /** Further uncertainty under the hypothesis, each a column shared between readings, in ohm. */
  readonly columns: readonly Float64Array[]
}

/** One soil level, ready for hypotheses: covariance inverted once, kits told apart for their gain. */
export interface PreparedLevel {
  readonly model: LevelModel
  readonly precision: Precision
  readonly logDeterminant: number
  readonly covariance: Float64Array
  /** Finite readings (those that are not over range), as indices into the observations. */
  readonly finite: readonly number[]
  readonly over: readonly number[]
  /** Of a sound array, per observation: standard deviation, and ln of chance and density to be spoiled. */
  readonly soundSdOhm: Float64Array
  /** The same without gain, squared: the diagonal of `covariance`. */
  readonly varianceOhm2: Float64Array
  readonly soundLogSpoiled: Float64Array
  /** ln of the chance that a reading is to be taken as it stands, per finite reading. */
  readonly logTaken: Float64Array
}

export function prepareLevel(model: LevelModel, measurement: Measurement): PreparedLevel {
  const { observations } = measurement
  const n = observations.length
  const finite: number[] = []
  const over: number[] = []
  observations.forEach((o, p) => (o.ohm === null ? over : finite).push(p))
  const m = finite.length
  const full = model.covariance.map((value, k) => value + measurement.covariance[k])
  const covariance = new Float64Array(m * m)
  for (let i = 0; i < m; i++)
    for (let j = 0; j < m; j++) covariance[i * m + j] = full[finite[i] * n + finite[j]]
  const factor = covariance.slice()
  const failed = choleskyInPlace(factor, m)
  assert(failed < 0, `the covariance of the readings is not positive definite at reading ${failed}`)
  const soundSdOhm = new Float64Array(n)
  const soundLogSpoiled = new Float64Array(n)
  observations.forEach((o, p) => {
    const networkOhm = Number.isFinite(model.networkOhm[p]) ? model.networkOhm[p] : 0
    soundSdOhm[p] = Math.hypot(Math.sqrt(full[p * n + p]), gainSd(o.kit) * networkOhm)
    const predictedOhm = model.networkOhm[p] + measurement.addedMeanOhm[p]
    if (o.ohm !== null) soundLogSpoiled[p] = logSpoiledDensity(measurement, p, predictedOhm, soundSdOhm[p])
  })
  const logTaken = Float64Array.from(finite, (p) => Math.log(1 - spoiledRate(observations[p])))
  return {
    soundSdOhm,
    varianceOhm2: Float64Array.from(observations, (_, p) => full[p * n + p]),
    soundLogSpoiled,
    logTaken,
    model,
    precision: { size: m, base: inverseFromCholesky(factor, m), less: [] },
    logDeterminant: logDeterminant(factor, m),
    covariance: full,
    finite,
    over,
  }
}

/** What a hypothesis makes of the readings at one soil level. */
export interface Judgement extends StatesSum {
  /** Prediction per observation, contact and mean offset included; Infinity without a path. */
  readonly predictedOhm: Float64Array
  /** Its standard deviation, marginal. */
  readonly sdOhm: Float64Array
}

export type EvidenceWorkspace = StatesWorkspace

export function evidenceWorkspace(finiteCount: number): EvidenceWorkspace {
  return statesWorkspace(finiteCount)
}

/** Chance that a reading is not to be taken as it stands. */
export function spoiledRate({ poorRate, falseLowRate, a, b }: Observation): number {
  return poorRate + falseLowRate + otherwiseWrong + (a === b ? 0 : assumptions.brokenLead)
}

/**
 * ln of chance and density of reading p when it is not to be taken as it stands: too low, half of it as if
 * nothing lay between the clips but contact and lead, half anything up to the prediction; otherwise wrong; or
 * taken through a poor contact.
 */
function logSpoiledDensity(
  { observations, addedMeanOhm, covariance }: Measurement,
  p: number,
  predictedOhm: number,
  sdOhm: number,
): number {
  const n = observations.length
  const o = observations[p]
  const ohm = o.ohm ?? 0
  const empty = logNormalDensity(ohm - addedMeanOhm[p], Math.sqrt(covariance[p * n + p]))
  const half = Math.log(o.falseLowRate / 2)
  let log = logAdd(half + empty, Math.log(otherwiseWrong / (1 + ohm) ** 2))
  if (!Number.isFinite(predictedOhm)) return logAdd(log, half - 2 * Math.log(1 + ohm))
  const highest = Math.max(predictedOhm, 0) + 3 * sdOhm
  const beyond = Math.max(0, (ohm - highest) / sdOhm)
  log = logAdd(log, half - Math.log(highest) - 0.5 * beyond * beyond)
  if (o.poorRate === 0) return log
  return logAdd(log, Math.log(o.poorRate) + logPoorContactDensity(ohm - predictedOhm, sdOhm))
}

/** The same, taken over from a sound array for a reading that is hardly moved and widened. */
export function logSpoiledOf(
  { soundSdOhm, soundLogSpoiled }: PreparedLevel,
  measurement: Measurement,
  p: number,
  predictedOhm: number,
  riseOhm: number,
  sdOhm: number,
): number {
  const few = unmovedShare * sdOhm
  const isUnmoved = riseOhm < few && sdOhm - soundSdOhm[p] < few
  return isUnmoved ? soundLogSpoiled[p] : logSpoiledDensity(measurement, p, predictedOhm, sdOhm)
}

/** What a hypothesis says of each reading at one soil level, before the sum over contact states. */
export interface Stated {
  readonly level: PreparedLevel
  readonly measurement: Measurement
  readonly states: ReadingStates
  readonly predictedOhm: Float64Array
  readonly sdOhm: Float64Array
}

/** Predictions, spreads and the precision of the finite readings under a hypothesis. O(n² columns). */
export function stateReadings(level: PreparedLevel, measurement: Measurement, shift: Shift): Stated {
  const { observations, kits, kitOf, addedMeanOhm } = measurement
  const n = observations.length
  const { finite } = level
  const { networkOhm } = level.model
  const { riseOhm } = shift
  const m = finite.length
  const predictedOhm = new Float64Array(n)
  const variance = level.varianceOhm2.slice()
  for (let p = 0; p < n; p++) predictedOhm[p] = networkOhm[p] + addedMeanOhm[p] + riseOhm[p]
  let { precision, logDeterminant: determinant } = level
  const column = new Float64Array(m)
  const full = new Float64Array(n)
  const widen = () => {
    for (let p = 0; p < n; p++) variance[p] += full[p] * full[p]
    for (let i = 0; i < m; i++) column[i] = full[finite[i]]
    const wider = widened(precision, column)
    precision = wider.precision
    determinant += wider.logDeterminant
  }
  for (const shared of shift.columns) {
    full.set(shared)
    widen()
  }
  for (let kit = 0; kit < kits.length; kit++) {
    const gain = gainSd(kits[kit])
    for (let p = 0; p < n; p++) {
      const ohm = predictedOhm[p] - addedMeanOhm[p]
      full[p] = kitOf[p] === kit && ohm !== Infinity ? gain * ohm : 0
    }
    widen()
  }
  const sdOhm = new Float64Array(n)
  for (let p = 0; p < n; p++) sdOhm[p] = Math.sqrt(variance[p])
  const residualOhm = new Float64Array(m)
  const logSpoiled = new Float64Array(m)
  const mustSpoil = new Uint8Array(m)
  for (let i = 0; i < m; i++) {
    const p = finite[i]
    const ohm = observations[p].ohm ?? 0
    const known = predictedOhm[p] !== Infinity
    residualOhm[i] = known ? ohm - predictedOhm[p] : 0
    mustSpoil[i] = known ? 0 : 1
    logSpoiled[i] = logSpoiledOf(level, measurement, p, predictedOhm[p], riseOhm[p], sdOhm[p])
  }
  const states: ReadingStates = {
    count: m,
    precision,
    logDeterminant: determinant,
    residualOhm,
    weighted: timesPrecision(precision, residualOhm, new Float64Array(m)),
    logTaken: level.logTaken,
    logSpoiled,
    mustSpoil,
  }
  return { level, measurement, states, predictedOhm, sdOhm }
}

export interface SumOptions {
  /** A screening value: contact states greedily, nothing summed out together. */
  readonly quick: boolean
  /** An observation that is not counted: the difference is what that reading says. */
  readonly leaveOut?: number
}

/** The density of all readings, summed over contact states. O(n (columns + set-aside readings)²) and one product. */
export function sumStated(
  { level, measurement, states, predictedOhm, sdOhm }: Stated,
  work: EvidenceWorkspace,
  { quick, leaveOut }: SumOptions,
): Judgement {
  const { observations, overRuns } = measurement
  const n = observations.length
  const { finite } = level
  const without = leaveOut === undefined ? -1 : finite.indexOf(leaveOut)
  const sum = sumOverContactStates(without < 0 ? states : withoutReading(states, without), work, quick)
  let { logEvidence } = sum
  const spoiledProbability = new Float64Array(n)
  for (let i = 0; i < finite.length; i++) spoiledProbability[finite[i]] = sum.spoiledProbability[i]
  for (const run of overRuns)
    logEvidence += logOverRun(run, observations, predictedOhm, sdOhm, leaveOut, spoiledProbability)
  return { logEvidence: Math.max(logEvidence, leastLog * n), spoiledProbability, predictedOhm, sdOhm }
}

/** The same readings with one of them set aside for certain, whatever it read. */
function withoutReading(states: ReadingStates, i: number): ReadingStates {
  const logSpoiled = states.logSpoiled.slice()
  const mustSpoil = states.mustSpoil.slice()
  logSpoiled[i] = 0
  mustSpoil[i] = 1
  return { ...states, logSpoiled, mustSpoil }
}

/**
 * ln of the density of all readings under a hypothesis at one soil level, summed over contact states; and
 * for every observation its prediction and its chance to be spoiled.
 */
export function judge(
  level: PreparedLevel,
  measurement: Measurement,
  shift: Shift,
  work: EvidenceWorkspace,
  options: SumOptions,
): Judgement {
  return sumStated(stateReadings(level, measurement, shift), work, options)
}
