import type { CoverSets } from './coverSets.ts'

/**
 * At which level each candidate feels each joint, 1 and up; joints at different levels are told apart by it, those that it
 * does not feel being at level 0. Candidate c feels `joint[offset[c]]` …, ascending, among them all that it shows.
 */
export interface Signs {
  readonly joints: number
  readonly candidates: number
  readonly offset: Int32Array
  readonly joint: Int32Array
  readonly level: Uint8Array
}

/** What is chosen from: which joints each candidate shows and feels, what they are worth, where candidates end. */
export interface PairInstance {
  readonly shown: CoverSets
  readonly signs: Signs
  /** Per joint its chance of going bad, above 0. */
  readonly weight: Float64Array
  /** Per candidate the minutes that it takes from a set-up that stands, and the numbers of its two parts. */
  readonly minutes: Float64Array
  readonly from: Int32Array
  readonly to: Int32Array
}

/** What is needed of joints beyond what is taken already. */
export interface Asked {
  /** By how many of the chosen each is to be shown. */
  readonly need: Uint8Array
  /** Joints with different numbers are told apart already. */
  readonly classOf: Int32Array
}
