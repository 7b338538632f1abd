import { assert } from '../../base/assert.ts'
import { choleskyInPlace, solveLower } from '../../base/symmetric.ts'
import { gainSd } from '../../reading/kitError.ts'
import { evidenceWorkspace, stateReadings, sumStated, type EvidenceWorkspace } from '../evidence.ts'
import { brokenAfter, type OverRun } from '../overRange.ts'
import type { Posterior } from '../posterior.ts'
import { precisionEntry, timesPrecision, type Precision } from '../precision.ts'
import type { Hypothesis } from './hypotheses.ts'
import { setShift } from '../sets/setShift.ts'

/** The readings that were taken, under one hypothesis, ready for what a further one would read. */
export interface Conditioned {
  readonly hypothesis: Hypothesis
  readonly precision: Precision
  /** W ρ over the finite readings. */
  readonly weighted: Float64Array
  /** Chance of each reading to be spoiled. */
  readonly spoiledProbability: Float64Array
  /** Chance that the lead of the set-up is broken by now. */
  readonly brokenNow: number
  /** Finite readings that are left out of account: their places among the finite ones. */
  readonly setAside: readonly number[]
  /** Cholesky factor of W over those set aside, and what it makes of W ρ there. */
  readonly factor: Float64Array
  readonly solved: Float64Array
  /** Uncertainty that the hypothesis brings, over all readings: columns of its shift, the gain of each instrument. */
  readonly columns: readonly Float64Array[]
  readonly riseOhm: Float64Array
  readonly gainOhm: readonly Float64Array[]
}

/** What is known of a further reading before the others are taken into account. */
export interface Prior {
  readonly meanOhm: number
  readonly varianceOhm2: number
  /** Covariance with each finite reading. */
  readonly covariance: Float64Array
}

/**
 * Readings likelier spoiled than not are set aside. `lastRun`: of over-range readings that the set-up ended with. O(readings²),
 * and the sum over contact states.
 */
export function conditionOn(
  { models, inputs, measurement }: Posterior,
  hypothesis: Hypothesis,
  lastRun: OverRun | null,
  work: EvidenceWorkspace = evidenceWorkspace(inputs.levels[0].finite.length),
): Conditioned {
  const { level: at, bad } = hypothesis
  const { observations, kits, kitOf, addedMeanOhm } = measurement
  const level = inputs.levels[at]
  const shift = setShift(inputs.network, models, at, bad)
  const stated = stateReadings(level, measurement, shift)
  const { spoiledProbability } = sumStated(stated, work, { quick: false })
  const { precision, residualOhm, mustSpoil } = stated.states
  const weighted = timesPrecision(precision, residualOhm, new Float64Array(precision.size))
  const gainOhm = kits.map((kit, k) =>
    Float64Array.from(observations, (_, p) => {
      const ohm = stated.predictedOhm[p] - addedMeanOhm[p]
      return kitOf[p] === k && ohm !== Infinity ? gainSd(kit) * ohm : 0
    }),
  )
  const setAside = level.finite.flatMap((p, i) =>
    mustSpoil[i] === 1 || spoiledProbability[p] > 0.5 ? [i] : [],
  )
  return {
    hypothesis,
    precision,
    weighted,
    spoiledProbability,
    brokenNow: lastRun ? brokenAfter(lastRun, observations, stated.predictedOhm, stated.sdOhm) : 0,
    ...leaveOut(precision, weighted, setAside),
    columns: shift.columns,
    riseOhm: shift.riseOhm,
    gainOhm,
  }
}

function leaveOut(
  precision: Precision,
  weighted: Float64Array,
  setAside: readonly number[],
): Pick<Conditioned, 'setAside' | 'factor' | 'solved'> {
  const k = setAside.length
  const factor = new Float64Array(k * k)
  setAside.forEach((p, a) =>
    setAside.forEach((q, b) => {
      factor[a * k + b] = precisionEntry(precision, p, q)
    }),
  )
  assert(choleskyInPlace(factor, k) < 0, 'the precision of the readings is positive definite')
  const solved = Float64Array.from(setAside, (p) => weighted[p])
  solveLower(factor, k, solved)
  return { setAside, factor, solved }
}

/** The same with one finite reading set aside or taken as it stands, whichever it was before. */
export function withState(known: Conditioned, place: number, isSpoiled: boolean): Conditioned {
  if (known.setAside.includes(place) === isSpoiled) return known
  const setAside = isSpoiled
    ? [...known.setAside, place].sort((a, b) => a - b)
    : known.setAside.filter((other) => other !== place)
  return { ...known, ...leaveOut(known.precision, known.weighted, setAside) }
}

/**
 * Mean and standard deviation of a further reading given those that were taken: with W = Σ⁻¹, c its covariance with
 * them and F what is set aside,
 *
 *   μ + cᵀW′ρ ,   σ² − cᵀW′c ,   aᵀW′b = aᵀWb − (Wa)_Fᵀ W_FF⁻¹ (Wb)_F
 *
 * O(readings²).
 */
export function given(
  { precision, weighted, setAside, factor, solved }: Conditioned,
  { meanOhm, varianceOhm2, covariance }: Prior,
  leastSdOhm: number,
): { readonly meanOhm: number; readonly sdOhm: number } {
  const m = covariance.length
  const product = timesPrecision(precision, covariance, new Float64Array(m))
  let mean = meanOhm
  let variance = varianceOhm2
  for (let i = 0; i < m; i++) {
    mean += covariance[i] * weighted[i]
    variance -= covariance[i] * product[i]
  }
  const own = Float64Array.from(setAside, (p) => product[p])
  solveLower(factor, setAside.length, own)
  for (let k = 0; k < own.length; k++) {
    mean -= own[k] * solved[k]
    variance += own[k] * own[k]
  }
  return { meanOhm: mean, sdOhm: Math.max(leastSdOhm, Math.sqrt(Math.max(0, variance))) }
}
