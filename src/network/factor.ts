import { assert } from '../base/assert.ts'
import { inPortions, portion, portionSteps } from '../base/portion.ts'
import type { FactorPattern } from './analyse.ts'
import type { Graph } from './graph.ts'

/**
 * Laplacian = L D Lᵀ with L_ij = −share_ij below the unit diagonal. Read as a star-mesh elimination:
 * when node j is eliminated it hangs on its later neighbours i by conductances w_ij; then
 *
 *   pivotS_j = Σ_i w_ij          share_ij = w_ij / pivotS_j ∈ (0, 1],  Σ_i share_ij = 1
 *
 * and share_ij is the part of a current into j that goes on to i (the chance that a walk from j enters
 * the nodes after j at i).
 */
export interface Factor {
  readonly pattern: FactorPattern
  /** Per position, in siemens; 0 at the last position of each island. */
  readonly pivotS: Float64Array
  /** Per entry of the pattern. */
  readonly share: Float64Array
  /** Scratch of the solves, by position; all zero between two calls. */
  readonly scratch: Float64Array
}

interface Elimination {
  readonly pattern: FactorPattern
  readonly pivotS: Float64Array
  readonly share: Float64Array
  /** Column under work, by row. */
  readonly weight: Float64Array
  /** For each row a chained list of the finished columns whose next entry lies in it, −1 ends. */
  readonly firstColumn: Int32Array
  readonly nextColumn: Int32Array
  /** The next entry of each finished column. */
  readonly cursor: Int32Array
  j: number
}

/**
 * Numeric factor for conductances given per edge, in siemens. Left-looking by columns:
 *
 *   w_ij = Σ g_ij + Σ_{k<j} share_jk · share_ik · pivotS_k ,     pivotS_j = Σ_i w_ij
 *
 * Every sum is one of positive terms: nothing is ever subtracted, so pivots and shares carry a small relative
 * error each, whatever the ratio of the conductances (Grassmann, Taksar, Heyman 1985; Alfa, Xue, Ye 2002).
 * Time Σ_j |column j|² / 2, memory 8 (entries + 3 nodes) bytes. Parallel edges are summed. Throws when a
 * conductance is not positive and finite, or when a weight leaves the range of numbers.
 */
export function* factorNumeric(
  pattern: FactorPattern,
  graph: Graph,
  conductanceS: Float64Array,
): Generator<number, Factor> {
  const n = pattern.nodeCount
  assert(conductanceS.length === graph.from.length, 'a conductance is needed for every edge')
  const share = new Float64Array(pattern.row.length)
  const enter = (first: number, end: number) => enterEdges(pattern.slot, conductanceS, first, end, share)
  yield* portion(inPortions(conductanceS.length, enter), 0, 0.05)
  const elimination: Elimination = {
    pattern,
    pivotS: new Float64Array(n),
    share,
    weight: new Float64Array(n),
    firstColumn: new Int32Array(n).fill(-1),
    nextColumn: new Int32Array(n).fill(-1),
    cursor: pattern.start.slice(0, n),
    j: 0,
  }
  while (elimination.j < n) {
    eliminateColumns(elimination)
    yield 0.05 + (0.95 * elimination.j) / n
  }
  return { pattern, pivotS: elimination.pivotS, share, scratch: elimination.weight }
}

function enterEdges(
  slot: Int32Array,
  conductanceS: Float64Array,
  first: number,
  end: number,
  share: Float64Array,
): void {
  for (let e = first; e < end; e++) {
    const g = conductanceS[e]
    if (!(g > 0 && g < Infinity)) assert(false, `edge ${e} has the conductance ${g} S`)
    share[slot[e]] += g
  }
}

function eliminateColumns(elimination: Elimination): void {
  const { pattern, pivotS, share, weight, firstColumn, nextColumn, cursor } = elimination
  const { start, row, nodeCount } = pattern
  let operations = 0
  let j = elimination.j
  for (; j < nodeCount && operations < portionSteps; j++) {
    const from = start[j]
    const to = start[j + 1]
    for (let s = from; s < to; s++) weight[row[s]] = share[s]
    for (let k = firstColumn[j]; k >= 0;) {
      const following = nextColumn[k]
      const end = start[k + 1]
      const at = cursor[k] + 1
      const f = share[at - 1] * pivotS[k]
      for (let s = at; s < end; s++) weight[row[s]] += f * share[s]
      operations += end - at + 4
      if (at < end) {
        cursor[k] = at
        nextColumn[k] = firstColumn[row[at]]
        firstColumn[row[at]] = k
      }
      k = following
    }
    let pivot = 0
    for (let s = from; s < to; s++) {
      const w = weight[row[s]]
      weight[row[s]] = 0
      share[s] = w
      pivot += w
    }
    if (from < to) {
      if (!(pivot > 0 && pivot < Infinity)) assert(false, `node ${pattern.order[j]} has the pivot ${pivot} S`)
      for (let s = from; s < to; s++) share[s] /= pivot
      nextColumn[j] = firstColumn[row[from]]
      firstColumn[row[from]] = j
    }
    pivotS[j] = pivot
    operations += 2 * (to - from) + 4
  }
  elimination.j = j
}
