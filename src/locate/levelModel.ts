/** Joints whose failure could show in the readings, by edge, ascending. */
export interface Candidates {
  readonly edge: Int32Array
}

/** What sound joints make of the readings while soil has one certain level; n readings, k candidates. */
export interface LevelModel {
  readonly lnSoil: number
  readonly logWeight: number
  /** Mean resistance of each pair over the scatter of its joints; Infinity where nothing joins the two. */
  readonly networkOhm: Float64Array
  /** n × n: shared scatter of joints and of the level of each joint kind, in ohm². */
  readonly covariance: Float64Array
  /** n × kinds: what the level of each joint kind adds to each reading, per standard deviation of it; in ohm. */
  readonly byKind: Float64Array
  /** k × n: squared share of the measuring current that crosses the candidate. */
  readonly squared: Float64Array
  /** k: c = g (1 − h) of each candidate. */
  readonly loopS: Float64Array
  /** n: c of the joint in the jaws of each loop clamp, 0 for other readings; absent where no clamp was used. */
  readonly loopOfReadingS?: Float64Array | undefined
}
