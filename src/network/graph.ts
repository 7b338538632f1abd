import { assert } from '../base/assert.ts'
import { inPortions, portion, wholly } from '../base/portion.ts'

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

/** As `adjacencyInPortions`, in one go. */
export function adjacencyOf(graph: Graph): Adjacency {
  return wholly(adjacencyInPortions(graph))
}

/**
 * Counting sort of the edge ends by node: O(nodes + edges) time, 4 (nodes + 4 edges) bytes. Yields the fraction
 * done. Throws when an edge leads from a node to itself.
 */
export function* adjacencyInPortions(graph: Graph): Generator<number, Adjacency> {
  const { nodeCount, from, to } = graph
  const edgeCount = from.length
  assert(to.length === edgeCount, 'a graph needs as many edge ends as edge starts')
  const start = new Int32Array(nodeCount + 1)
  yield* portion(
    inPortions(edgeCount, (first, end) => countEnds(graph, first, end, start)),
    0,
    0.3,
  )
  sumUp(start)
  yield 0.35
  const next = start.slice(0, nodeCount)
  const adjacency = { start, neighbour: new Int32Array(2 * edgeCount), edge: new Int32Array(2 * edgeCount) }
  yield* portion(
    inPortions(edgeCount, (first, end) => enterEnds(graph, first, end, next, adjacency)),
    0.35,
    0.65,
  )
  return adjacency
}

/** Makes each number the sum of all up to it. */
export function sumUp(counts: Int32Array): void {
  for (let k = 1; k < counts.length; k++) counts[k] += counts[k - 1]
}

function countEnds({ from, to }: Graph, first: number, end: number, start: Int32Array): void {
  for (let e = first; e < end; e++) {
    const a = from[e]
    const b = to[e]
    if (a === b) assert(false, `edge ${e} leads from node ${a} to itself`)
    start[a + 1]++
    start[b + 1]++
  }
}

function enterEnds(
  { from, to }: Graph,
  first: number,
  end: number,
  next: Int32Array,
  { neighbour, edge }: Adjacency,
): void {
  for (let e = first; e < end; e++) {
    const a = next[from[e]]++
    neighbour[a] = to[e]
    edge[a] = e
    const b = next[to[e]]++
    neighbour[b] = from[e]
    edge[b] = e
  }
}

/** The node of each edge at the end that is not `node`. */
export function otherEnd(graph: Graph, edge: number, node: number): number {
  return graph.from[edge] === node ? graph.to[edge] : graph.from[edge]
}
