import { assert } from '../base/assert.ts'

/**
 * The bare structure that every kernel of this folder works on: `nodeCount` nodes numbered from 0 and
 * edges e = 0 … from.length − 1 between `from[e]` and `to[e]`. Parallel edges stay separate edges
 * (each is a joint that can be blamed by itself); an edge from a node to itself is a bug.
 */
export interface Graph {
  readonly nodeCount: number
  readonly from: Int32Array
  readonly to: Int32Array
}

/**
 * For node v the slots start[v] … start[v + 1] − 1 hold its neighbours and the edges that lead there.
 * Every edge stands in two slots. Neighbours of a node come in ascending edge order.
 */
export interface Adjacency {
  readonly start: Int32Array
  readonly neighbour: Int32Array
  readonly edge: Int32Array
}

/** Counting sort of the edge ends by node: O(nodes + edges) time, 4 (nodes + 4 edges) bytes. */
export function adjacencyOf(graph: Graph): Adjacency {
  const { nodeCount, from, to } = graph
  const edgeCount = from.length
  assert(to.length === edgeCount, 'a graph needs as many edge ends as edge starts')
  const start = new Int32Array(nodeCount + 1)
  for (let e = 0; e < edgeCount; e++) {
    assert(from[e] !== to[e], `edge ${e} leads from node ${from[e]} to itself`)
    start[from[e] + 1]++
    start[to[e] + 1]++
  }
  for (let v = 0; v < nodeCount; v++) start[v + 1] += start[v]
  const next = start.slice(0, nodeCount)
  const neighbour = new Int32Array(2 * edgeCount)
  const edge = new Int32Array(2 * edgeCount)
  for (let e = 0; e < edgeCount; e++) {
    const a = next[from[e]]++
    neighbour[a] = to[e]
    edge[a] = e
    const b = next[to[e]]++
    neighbour[b] = from[e]
    edge[b] = e
  }
  return { start, neighbour, edge }
}

/** The node of each edge at the end that is not `node`. */
export function otherEnd(graph: Graph, edge: number, node: number): number {
  return graph.from[edge] === node ? graph.to[edge] : graph.from[edge]
}
