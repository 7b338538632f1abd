import type { Factor } from './factor.ts'
import type { Adjacency } from './graph.ts'

/**
 * How little current can pass through a part of the network: what `currentsOfPair` leaves parts out by.
 *
 * The columns of a subtree of the elimination tree, together, are a part of the network that touches the rest only at
 * the rows of the subtree's top column j. Seen from there it is equal to conductances W_ik between those rows,
 * and held at potentials x it lets through no more than
 *
 *   Σ_{i<k} W_ik |x_i − x_k|  ≤  betweenS_j · (max x − min x)  +  toReferenceS_j · max |x_i − x_reference|
 *
 * with the pairs that hold the island's reference counted in `toReferenceS` and the others in `betweenS`, both with
 * all x but the reference's. No edge of the part carries more than what passes through it: in a network without
 * sources of its own current flows from higher to lower potential and nowhere in a ring.
 */
export interface Through {
  /** Per position: first position of its subtree, which ends with itself. */
  readonly subtreeStart: Int32Array
  readonly betweenS: Float32Array
  readonly toReferenceS: Float32Array
  /** Least loop conductance c = g (1 − h) of the part's edges, bridges aside; Infinity where it has no others. */
  readonly leastLoopS: Float32Array
}

const SLICE = 1 << 15

/** Room for rounding in the sums, in parts of what was summed, and for storing them in single precision. */
const ROUNDING = 1e-12
const SINGLE = 1 + 1e-6

/**
 * Sums of the W of every subtree. Eliminating j hangs its rows on each other by w_i w_k / p_j in place of w_i
 * to j, of which the subtrees below had brought all but the conductances of j's own edges:
 *
 *   T_j = Σ_children T − (p_j − own_j) + p_j (1 − Σ share²) / 2
 *
 * and the same for the pairs with the reference alone. O(entries + edges) time, 16 bytes a node.
 */
export function* throughOf(
  { pattern, pivotS, share }: Factor,
  adjacency: Adjacency,
  conductanceS: Float64Array,
  loopS: Float64Array,
): Generator<number, Through> {
  const { nodeCount, order, position, parent, root, start, row } = pattern
  const subtreeStart = new Int32Array(nodeCount)
  const between = new Float64Array(nodeCount)
  const toReference = new Float64Array(nodeCount)
  const summed = new Float64Array(nodeCount)
  for (let j = 0; j < nodeCount; j++) subtreeStart[j] = j
  const betweenS = new Float32Array(nodeCount)
  const toReferenceS = new Float32Array(nodeCount)
  const leastLoopS = new Float32Array(nodeCount).fill(Infinity)
  for (let j = 0; j < nodeCount; j++) {
    const up = parent[j]
    if (up >= 0) {
      const reference = root[j]
      let own = 0
      let ownToReference = 0
      const node = order[j]
      for (let s = adjacency.start[node]; s < adjacency.start[node + 1]; s++) {
        const other = position[adjacency.neighbour[s]]
        if (other < j) continue
        const loop = loopS[adjacency.edge[s]]
        if (loop > 0 && loop < leastLoopS[j]) leastLoopS[j] = loop / SINGLE
        if (other === reference) ownToReference += conductanceS[adjacency.edge[s]]
        else own += conductanceS[adjacency.edge[s]]
      }
      const end = start[j + 1]
      const grounded = row[end - 1] === reference ? share[end - 1] : 0
      let squares = 0
      for (let s = start[j]; s < end; s++) squares += share[s] * share[s]
      const pivot = pivotS[j]
      const pairs = (pivot * Math.max(0, 1 - squares)) / 2
      const pairsToReference = pivot * grounded * (1 - grounded)
      between[j] += own - pivot * (1 - grounded) + pairs - pairsToReference
      toReference[j] += ownToReference - pivot * grounded + pairsToReference
      summed[j] += pivot
      subtreeStart[up] = Math.min(subtreeStart[up], subtreeStart[j])
      between[up] += between[j]
      toReference[up] += toReference[j]
      summed[up] += summed[j]
      leastLoopS[up] = Math.min(leastLoopS[up], leastLoopS[j])
      const room = ROUNDING * summed[j]
      betweenS[j] = (Math.max(0, between[j]) + room) * SINGLE
      toReferenceS[j] = (Math.max(0, toReference[j]) + room) * SINGLE
    }
    if (j % SLICE === SLICE - 1) yield j / nodeCount
  }
  return { subtreeStart, betweenS, toReferenceS, leastLoopS }
}
