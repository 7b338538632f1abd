import { choleskyInPlace, inverseFromCholesky } from '../base/symmetric.ts'
import { gainSd } from '../reading/kitError.ts'
import type { Judgement, Measurement, PreparedLevel, Shift } from './evidence.ts'

export interface OffsetEstimate {
  readonly offsetOhm: number
  readonly sdOhm: number
}

export interface OffsetsAndFit {
  readonly offsets: readonly OffsetEstimate[]
  /** Square of what is left of the readings that are taken, in standard deviations. */
  readonly chiSquare: number
  /** Readings that are taken as they stand, by observation; their inverse covariance W and W ρ. */
  readonly taken: readonly number[]
  readonly precision: Float64Array
  readonly weighted: readonly number[]
}

/**
 * What the readings that are taken as they stand say of each nulling interval's offset under the likeliest
 * hypothesis, and how well they fit it: conditional mean and standard deviation of the normal model.
 */
export function estimateOffsets(
  level: PreparedLevel,
  measurement: Measurement,
  shift: Shift,
  judged: Judgement,
): OffsetsAndFit {
  const { observations, intervals, addedMeanOhm } = measurement
  const n = observations.length
  const taken = level.finite.filter(
    (p) => judged.spoiledProbability[p] < 0.5 && Number.isFinite(judged.predictedOhm[p]),
  )
  const m = taken.length
  const covariance = new Float64Array(m * m)
  taken.forEach((p, i) =>
    taken.forEach((q, j) => {
      let value = level.covariance[p * n + q]
      for (const column of shift.columns) value += column[p] * column[q]
      if (observations[p].kit === observations[q].kit) {
        const gain = gainSd(observations[p].kit)
        value +=
          gain *
          gain *
          (judged.predictedOhm[p] - addedMeanOhm[p]) *
          (judged.predictedOhm[q] - addedMeanOhm[q])
      }
      covariance[i * m + j] = value
    }),
  )
  const residual = taken.map((p) => (observations[p].ohm ?? 0) - judged.predictedOhm[p])
  if (m === 0 || choleskyInPlace(covariance, m) >= 0) {
    const offsets = intervals.map((i) => ({ offsetOhm: i.offsetMeanOhm, sdOhm: i.offsetSdOhm }))
    return { offsets, chiSquare: 0, taken: [], precision: new Float64Array(0), weighted: [] }
  }
  const precision = inverseFromCholesky(covariance, m)
  const weighted = residual.map((_, i) => residual.reduce((sum, r, j) => sum + precision[i * m + j] * r, 0))
  const chiSquare = residual.reduce((sum, r, i) => sum + r * weighted[i], 0)
  const offsets = intervals.map((interval, k) => {
    const variance = interval.offsetSdOhm ** 2
    const members = taken.map((p, i) => (observations[p].interval === k ? i : -1)).filter((i) => i >= 0)
    let mean = interval.offsetMeanOhm
    let explained = 0
    for (const i of members) {
      mean += variance * weighted[i]
      for (const j of members) explained += precision[i * m + j]
    }
    return { offsetOhm: mean, sdOhm: Math.sqrt(Math.max(0, variance - variance * variance * explained)) }
  })
  return { offsets, chiSquare, taken, precision, weighted }
}
