import { bridgeCurrent } from './currents.ts'
import type { Graph } from './graph.ts'

/**
 * What one joint does to a reading. With i the current in joint e per ampere through the pair, h_e its
 * leverage and c_e = g_e (1 − h_e), exactly and for every pair (Sherman and Morrison 1950 in a form
 * without cancellation):
 *
 *   joint gains ρ ohm:   R rises by i² ρ / (1 + ρ c_e) = i² / (1/ρ + c_e)
 *   joint opens:         R rises by i² / c_e
 *
 * 1/c_e = r_e/(1 − h_e) is the resistance round the loop that the joint closes: its own ohms and the
 * path beside it in series, which is what a loop clamp round the joint reads. A bridge closes no loop:
 * c_e = 0 exactly, and the formulas need no other branch than the one for i = 0.
 */

/**
 * c_e of every joint. `slack[e]` = 1 − h_e, exactly 0 for a bridge. With the slack of the network that
 * has earth paths, a metal bridge keeps a small c_e > 0 through the soil; with the slack of the metal
 * alone it has none, and its opening leaves no metal path.
 */
export function loopConductanceS(conductanceS: Float64Array, slack: Float64Array): Float64Array {
  const cS = new Float64Array(conductanceS.length)
  for (let e = 0; e < cS.length; e++) cS[e] = conductanceS[e] * slack[e]
  return cS
}

/** Rise of a pair's resistance when the joint gains `addedOhm` ≥ 0 (Infinity: opens). Never NaN. */
export function riseOhm(currentSquared: number, cS: number, addedOhm: number): number {
  return currentSquared === 0 ? 0 : currentSquared / (1 / addedOhm + cS)
}

/** Rise when the joint opens: Infinity for a bridge on the pair's path, 0 for a joint without current. */
export function largestRiseOhm(currentSquared: number, cS: number): number {
  return currentSquared === 0 ? 0 : currentSquared / cS
}

/**
 * The ohms that the joint must gain to raise the pair by `rise`: ρ = rise / (i² − rise c_e).
 * 0 for no rise, Infinity where the joint must open altogether, undefined where even that is too little.
 */
export function addedOhmForRise(currentSquared: number, cS: number, rise: number): number | undefined {
  if (rise <= 0) return 0
  const largest = largestRiseOhm(currentSquared, cS)
  if (rise > largest) return undefined
  if (rise === largest) return Infinity
  // 1 − rise/largest and not i² − rise c_e, so that the sign of the difference is that of the test above
  return rise / currentSquared / (1 - rise / largest)
}

/**
 * What a reading across the joint's own ends becomes when the joint opens: R_e / (1 − h_e), the resistance
 * of the path beside it. Infinity for a bridge. `endsOhm[e]` is R_e, `slack[e]` is 1 − h_e.
 */
export function besideOhm(endsOhm: Float64Array, slack: Float64Array): Float64Array {
  const beside = new Float64Array(endsOhm.length)
  for (let e = 0; e < beside.length; e++) beside[e] = slack[e] === 0 ? Infinity : endsOhm[e] / slack[e]
  return beside
}

/**
 * Squared currents of joints `first` … `first + count − 1`, a row per joint:
 * squared[k * readingCount + p] = i² of joint first + k per ampere through the pair of reading p.
 */
export interface JointRows {
  first: number
  count: number
  readonly readingCount: number
  readonly squared: Float64Array
}

/** Fills rows whose `first` and `count` are set. */
export type RowFiller = (rows: JointRows) => void

/** Rows from the currents of all joints, one array per reading. */
export function rowsFromCurrents(currentA: readonly (Float64Array | Float32Array)[]): RowFiller {
  return ({ first, count, readingCount, squared }) => {
    for (let p = 0; p < readingCount; p++) {
      const i = currentA[p]
      for (let k = 0, at = p; k < count; k++, at += readingCount) squared[at] = i[first + k] * i[first + k]
    }
  }
}

/**
 * Rows from potentials, one array per reading: less to hold than currents, since parts are fewer than
 * joints. Currents of bridges come out as exactly 0 or 1.
 */
export function rowsFromPotentials(
  graph: Graph,
  conductanceS: Float64Array,
  isBridge: Uint8Array,
  potentialV: readonly Float64Array[],
): RowFiller {
  const { from, to } = graph
  return ({ first, count, readingCount, squared }) => {
    for (let p = 0; p < readingCount; p++) {
      const x = potentialV[p]
      for (let k = 0, at = p; k < count; k++, at += readingCount) {
        const e = first + k
        const i = conductanceS[e] * (x[from[e]] - x[to[e]])
        squared[at] = isBridge[e] === 1 ? Math.abs(bridgeCurrent(i)) : i * i
      }
    }
  }
}

/**
 * Goes over all joints in blocks, so that no more than `blockSize` rows are held: 5,000 joints are one
 * block, a million are many. The yielded object is filled anew for each block; copy what must last.
 * O(joints × readings) altogether; between two blocks the caller may do other work.
 */
export function* sweepJoints(
  fill: RowFiller,
  jointCount: number,
  readingCount: number,
  blockSize = 8192,
): Generator<JointRows, void> {
  const rowCount = Math.min(blockSize, jointCount)
  const rows: JointRows = {
    first: 0,
    count: 0,
    readingCount,
    squared: new Float64Array(rowCount * readingCount),
  }
  for (let first = 0; first < jointCount; first += rowCount) {
    rows.first = first
    rows.count = Math.min(rowCount, jointCount - first)
    fill(rows)
    yield rows
  }
}
