import type { Precision } from './precision.ts'

/**
 * What is known of the readings under one hypothesis. The readings that are taken as they stand follow
 * a normal distribution with precision W (inverse covariance); each reading may instead be set aside as spoiled
 * (poor contact, false low), independently of the others.
 */
export interface ReadingStates {
  readonly count: number
  /** Inverse covariance of all readings. */
  readonly precision: Precision
  /** ln det of the covariance. */
  readonly logDeterminant: number
  /** Reading minus prediction, in ohm. */
  readonly residualOhm: Float64Array
  /** The precision times that, where it is known already. */
  readonly weighted?: Float64Array
  /** ln of the chance that a reading is to be taken as it stands. */
  readonly logTaken: Float64Array
  /** ln of the chance that it is spoiled, times the density of what it then reads. */
  readonly logSpoiled: Float64Array
  /** 1 where a reading cannot be taken as it stands under this hypothesis (no path is predicted). */
  readonly mustSpoil: Uint8Array
}
