/**
 * Pairs from which a plan may be chosen: both ends within a clip's reach, no further apart than the lead, joined by metal,
 * and showing at least one joint. What they show stands in rows of one list (compressed sparse rows):
 *
 *   candidate k joins parts a[k] and b[k], a[k] < b[k], and shows the joints
 *   edge[start[k]] … edge[start[k + 1] − 1]      edges of the network, ascending
 *
 * with the squared share of the pair's current in each. From that and `loopS` follows all that a choice asks for:
 *
 *   rise     = squared / (1/ρ + c)          of a joint that gains ρ; it shows where rise ≥ leastRiseOhm[k]
 *   strength = rise / leastRiseOhm[k] ≥ 1
 *   parallel signatures (joints that look alike) have squared in one proportion over all pairs
 *
 * 12 bytes a joint shown and 28 a candidate. Candidates that were not solved by themselves but carried over from a like
 * place of the site (`template`) have the numbers of that place.
 */
export interface Candidates {
  readonly count: number
  readonly a: Int32Array
  readonly b: Int32Array
  readonly start: Int32Array
  readonly edge: Int32Array
  readonly squared: Float32Array
  /** Rise from which a joint shows in the pair, and the spread of one reading of it (`PairView`). */
  readonly leastRiseOhm: Float32Array
  readonly sdOhm: Float32Array
  /**
   * Candidates with the same number are copies of one another in like surroundings: the k-th joint of one is to it what the
   * k-th joint of the other is. Numbers from 0, ascending by first use.
   */
  readonly template: Int32Array
  readonly templateCount: number
  /** All pairs in reach and access, and not a choice from them that the site's structure suggests. */
  readonly isComplete: boolean
}

/** Joints that at least one candidate shows: 1 by edge. O(entries). */
export function shownByAny({ edge }: Candidates, edgeCount: number): Uint8Array {
  const shown = new Uint8Array(edgeCount)
  for (const e of edge) shown[e] = 1
  return shown
}
