import { inPortions, portionSteps, wholly } from '../base/portion.ts'
import type { Factor } from './factor.ts'
import type { Graph } from './graph.ts'

/**
 * Effective resistance in ohm between the two ends of every edge, in one sweep from the last column to the
 * first. When node j is put back onto its later neighbours S, whose mutual resistances are known by then,
 *
 *   R_ij = 1 / pivotS_j + v_i − q   (i ∈ S),    v_i = Σ_{k∈S} share_kj R_ik ,   q = ½ Σ_{i∈S} share_ij v_i
 *
 * because Σ_k share_kj e_k − e_i sums to zero and xᵀL⁺x = −½ ΣΣ x_k x_l R_kl for such x. All R_ik that it
 * asks for lie in the pattern. It is the recurrence of Takahashi, Fagan, Chen 1973 (Erisman, Tinney 1975)
 * written for resistances instead of for entries of the inverse: those are as large as the way to the
 * reference, and R = Z_uu + Z_vv − 2 Z_uv would lose what they have in common. Here v_i − q is a squared
 * distance, q ≤ (|S| − 1) / pivotS_j by Foster's sum, and R_ij ≥ 1 / pivotS_j: the one subtraction takes
 * little away, however far the reference.
 *
 * Time Σ_j Σ_{k∈S} |column k|, memory 8 (entries + edges) + 4 nodes bytes.
 */
export function* edgeResistance(factor: Factor, graph: Graph): Generator<number, Float64Array> {
  const { nodeCount, row, slot } = factor.pattern
  const entryOhm = new Float64Array(row.length)
  const place = new Int32Array(nodeCount).fill(-1)
  for (let j = nodeCount - 1; j >= 0;) {
    j = putBackColumns(factor, j, place, entryOhm)
    yield 1 - (j + 1) / nodeCount
  }
  return gather(entryOhm, slot, graph.from.length)
}

function gather(entryOhm: Float64Array, slot: Int32Array, edgeCount: number): Float64Array {
  const edgeOhm = new Float64Array(edgeCount)
  for (let e = 0; e < edgeCount; e++) edgeOhm[e] = entryOhm[slot[e]]
  return edgeOhm
}

function putBackColumns(factor: Factor, j: number, place: Int32Array, entryOhm: Float64Array): number {
  const { pattern, pivotS, share } = factor
  const { start, row } = pattern
  let operations = 0
  for (; j >= 0 && operations < portionSteps; j--) {
    const from = start[j]
    const to = start[j + 1]
    operations += 2 * (to - from) + 4
    for (let s = from; s < to; s++) place[row[s]] = s
    for (let s = from; s < to; s++) {
      const k = row[s]
      const own = share[s]
      let v = entryOhm[s]
      let missing = to - s - 1
      let t = start[k]
      for (; missing > 0; t++) {
        const at = place[row[t]]
        if (at < 0) continue
        v += share[at] * entryOhm[t]
        entryOhm[at] += own * entryOhm[t]
        missing--
      }
      entryOhm[s] = v
      operations += t - start[k]
    }
    let twice = 0
    for (let s = from; s < to; s++) {
      twice += share[s] * entryOhm[s]
      place[row[s]] = -1
    }
    for (let s = from; s < to; s++) {
      // a squared distance: less than zero only by rounding
      entryOhm[s] = 1 / pivotS[j] + Math.max(0, entryOhm[s] - twice / 2)
    }
  }
  return j
}

/** h_e = g_e R_e, the part of a current across its own ends that an edge carries, and 1 − h_e. */
export interface EdgeLeverage {
  /** In (0, 1]; exactly 1 for a bridge, and where the slack is too small to show. */
  readonly leverage: Float64Array
  /** 1 − leverage; exactly 0 for a bridge and for nothing else. */
  readonly slack: Float64Array
}

/** As `leverageInPortions`, in one go. */
export function leverageOf(
  endsOhm: Float64Array,
  conductanceS: Float64Array,
  isBridge: Uint8Array,
): EdgeLeverage {
  return wholly(leverageInPortions(endsOhm, conductanceS, isBridge))
}

/**
 * Leverages from the resistances of `edgeResistance`. Bridges come from graph search, never from rounding.
 * The slack of the others is a difference: its relative error is some 1e-15 / slack. Where it is below
 * `SLACK_TRUST`, `sharpenSlack` replaces it by a value that is not a difference. O(edges). Yields the fraction done.
 */
export function* leverageInPortions(
  endsOhm: Float64Array,
  conductanceS: Float64Array,
  isBridge: Uint8Array,
): Generator<number, EdgeLeverage> {
  const leverage = new Float64Array(endsOhm.length)
  const slack = new Float64Array(endsOhm.length)
  const enter = (first: number, end: number) => {
    for (let e = first; e < end; e++) {
      leverage[e] = isBridge[e] === 1 ? 1 : Math.min(conductanceS[e] * endsOhm[e], 1 - Number.EPSILON / 2)
      slack[e] = 1 - leverage[e]
    }
  }
  yield* inPortions(endsOhm.length, enter)
  return { leverage, slack }
}
