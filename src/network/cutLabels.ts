import type { RandomStream } from '../base/random.ts'
import type { Adjacency, Graph } from './graph.ts'
import { spanningForest } from './spanningForest.ts'

/**
 * 64 random bits per edge (`high`, `low`) such that the labels of the edges of any cut cancel (their
 * exclusive-or is 0), and the preorder of a spanning forest that tells the sides of a cut: node v is below
 * a tree edge with lower node w when position[w] ≤ position[v] < position[w] + size[w].
 * `lower[e]` is −1 for an edge that is in no tree.
 */
export interface CutLabels {
  readonly high: Uint32Array
  readonly low: Uint32Array
  readonly lower: Int32Array
  readonly position: Int32Array
  readonly size: Int32Array
}

/**
 * Every edge outside the spanning forest draws a label, and a tree edge takes the exclusive-or of the
 * labels of all edges whose cycle runs over it (Pritchard and Thurimella 2011, "Fast computation of small
 * cuts via cycle space sampling"). Then a set of edges is a cut (all edges between two sides) iff its
 * labels cancel: surely when it is one, and with chance 2⁻⁶⁴ when it is none. So one linear pass answers
 * for any number of sets what a graph search would have to answer for each: a bridge has label 0,
 * two edges that cut together have equal labels. O(nodes + edges).
 */
export function cutLabels(
  graph: Graph,
  adjacency: Adjacency,
  random: RandomStream,
  edgeIn?: Uint8Array,
): CutLabels {
  const { nodeCount, from, to } = graph
  const { order, parent, parentEdge, size } = spanningForest(graph, adjacency, edgeIn)
  const edgeCount = from.length
  const high = new Uint32Array(edgeCount)
  const low = new Uint32Array(edgeCount)
  const lower = new Int32Array(edgeCount).fill(-1)
  for (let v = 0; v < nodeCount; v++) if (parentEdge[v] >= 0) lower[parentEdge[v]] = v

  const highAt = new Uint32Array(nodeCount)
  const lowAt = new Uint32Array(nodeCount)
  for (let e = 0; e < edgeCount; e++) {
    if (lower[e] >= 0 || (edgeIn !== undefined && edgeIn[e] === 0)) continue
    high[e] = random.bits()
    low[e] = random.bits()
    highAt[from[e]] ^= high[e]
    lowAt[from[e]] ^= low[e]
    highAt[to[e]] ^= high[e]
    lowAt[to[e]] ^= low[e]
  }
  for (let k = nodeCount - 1; k >= 0; k--) {
    const v = order[k]
    if (parent[v] < 0) continue
    high[parentEdge[v]] = highAt[v]
    low[parentEdge[v]] = lowAt[v]
    highAt[parent[v]] ^= highAt[v]
    lowAt[parent[v]] ^= lowAt[v]
  }

  const position = new Int32Array(nodeCount)
  const next = new Int32Array(nodeCount)
  let free = 0
  for (const v of order) {
    if (parent[v] < 0) {
      position[v] = free
      free += size[v]
    } else {
      position[v] = next[parent[v]]
      next[parent[v]] += size[v]
    }
    next[v] = position[v] + 1
  }
  return { high, low, lower, position, size }
}

/**
 * The cuts inside a set of edges, one per row: isIn[j * K + k] = 1 when member k belongs to cut j, and
 * last[j] is the one member of cut j that is in no other row and comes after all other members of the cut.
 * Every cut inside the set is a combination of rows, so the set parts the graph iff there is a row, two
 * nodes come apart iff some row has them on different sides, and without the members `last` the set
 * contains no cut.
 */
export interface CutsWithin {
  readonly count: number
  readonly isIn: Uint8Array
  readonly last: Int32Array
}

/** Gauss elimination over the two-element field on the labels of K distinct edges. O(K³), K small. */
export function cutsWithin(labels: CutLabels, members: ArrayLike<number>): CutsWithin {
  const K = members.length
  const high = new Uint32Array(K)
  const low = new Uint32Array(K)
  const made = new Uint8Array(K * K)
  const pivots: number[] = []
  const last: number[] = []
  for (let k = 0; k < K; k++) {
    high[k] = labels.high[members[k]]
    low[k] = labels.low[members[k]]
    made[k * K + k] = 1
    for (const p of pivots) {
      if (!sharesLeadingBit(high[p], low[p], high[k], low[k])) continue
      high[k] ^= high[p]
      low[k] ^= low[p]
      for (let j = 0; j < k; j++) made[k * K + j] ^= made[p * K + j]
    }
    if ((high[k] | low[k]) === 0) last.push(k)
    else pivots.push(k)
  }
  const isIn = new Uint8Array(last.length * K)
  for (let j = 0; j < last.length; j++) isIn.set(made.subarray(last[j] * K, last[j] * K + K), j * K)
  return { count: last.length, isIn, last: Int32Array.from(last) }
}

/** Whether the second label has the highest bit of the first (non-zero) one. */
function sharesLeadingBit(pivotHigh: number, pivotLow: number, high: number, low: number): boolean {
  return pivotHigh !== 0
    ? ((high >>> (31 - Math.clz32(pivotHigh))) & 1) === 1
    : ((low >>> (31 - Math.clz32(pivotLow))) & 1) === 1
}

/** 0 or 1: the side of cut j on which a node lies, 0 being that of the roots of the trees. O(K). */
export function sideOfCut(
  labels: CutLabels,
  members: ArrayLike<number>,
  cuts: CutsWithin,
  j: number,
  node: number,
): number {
  const { lower, position, size } = labels
  const K = members.length
  let side = 0
  for (let k = 0; k < K; k++) {
    if (cuts.isIn[j * K + k] === 0) continue
    const w = lower[members[k]]
    if (w < 0) continue
    const depth = position[node] - position[w]
    if (depth >= 0 && depth < size[w]) side ^= 1
  }
  return side
}
