import type { Graph } from './graph.ts'

/** A graph of all nodes and some edges: edge k of it is edge `edge[k]` of the whole. */
export interface EdgeSubgraph {
  readonly graph: Graph
  readonly edge: Int32Array
}

/**
 * The edges e with edgeIn[e] = 1, in their order: the metal alone, to be solved beside the network with earth
 * paths. O(edges).
 */
export function edgeSubgraph(graph: Graph, edgeIn: Uint8Array): EdgeSubgraph {
  let count = 0
  for (let e = 0; e < edgeIn.length; e++) count += edgeIn[e]
  const edge = new Int32Array(count)
  for (let e = 0, k = 0; e < edgeIn.length; e++) if (edgeIn[e] === 1) edge[k++] = e
  return {
    graph: {
      nodeCount: graph.nodeCount,
      from: edge.map((e) => graph.from[e]),
      to: edge.map((e) => graph.to[e]),
    },
    edge,
  }
}

/** Values of the whole picked for the edges of the part. */
export function pickEdges(whole: Float64Array, edge: Int32Array): Float64Array {
  return Float64Array.from(edge, (e) => whole[e])
}

/** Values of the part put in their places in an array for the whole; `elsewhere` for all other edges. */
export function placeEdges(
  part: Float64Array,
  edge: Int32Array,
  edgeCount: number,
  elsewhere: number,
): Float64Array {
  const whole = new Float64Array(edgeCount).fill(elsewhere)
  for (let k = 0; k < edge.length; k++) whole[edge[k]] = part[k]
  return whole
}
