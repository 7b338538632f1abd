import type { FactorPattern } from './analyse.ts'
import type { Adjacency } from './graph.ts'

/**
 * Edges by the one of their ends that is eliminated first, so that a column reads its own one after the other: column j
 * (a position) has the slots start[j] … start[j + 1] − 1, in the order that its node has them in the adjacency.
 */
export interface LaterEdges {
  readonly start: Int32Array
  /** Position of the other end, above j. */
  readonly row: Int32Array
  readonly edge: Int32Array
  readonly conductanceS: Float64Array
  /** `bridgeFlag` and `earthFlag`, added. */
  readonly flags: Uint8Array
}

export const bridgeFlag = 1
export const earthFlag = 2

/** What an edge is to those who follow currents. */
export interface EdgeFacts {
  readonly conductanceS: Float64Array
  readonly isEarthPath: Uint8Array
  readonly isBridge: Uint8Array
}

const SLICE = 1 << 15

/** O(edges) time, 17 bytes an edge. Yields the fraction done. */
export function* laterEdges(
  { nodeCount, order, position }: Pick<FactorPattern, 'nodeCount' | 'order' | 'position'>,
  adjacency: Adjacency,
  { conductanceS, isEarthPath, isBridge }: EdgeFacts,
): Generator<number, LaterEdges> {
  const edgeCount = conductanceS.length
  const start = new Int32Array(nodeCount + 1)
  const later: LaterEdges = {
    start,
    row: new Int32Array(edgeCount),
    edge: new Int32Array(edgeCount),
    conductanceS: new Float64Array(edgeCount),
    flags: new Uint8Array(edgeCount),
  }
  let at = 0
  for (let j = 0; j < nodeCount; j++) {
    const node = order[j]
    for (let s = adjacency.start[node]; s < adjacency.start[node + 1]; s++) {
      const row = position[adjacency.neighbour[s]]
      if (row < j) continue
      const e = adjacency.edge[s]
      later.row[at] = row
      later.edge[at] = e
      later.conductanceS[at] = conductanceS[e]
      later.flags[at++] = bridgeFlag * isBridge[e] + earthFlag * isEarthPath[e]
    }
    start[j + 1] = at
    if (j % SLICE === SLICE - 1) yield j / nodeCount
  }
  return later
}
