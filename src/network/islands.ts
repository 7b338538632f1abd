import { assert } from '../base/assert.ts'
import { portionSteps, wholly } from '../base/portion.ts'
import type { Adjacency, Graph } from './graph.ts'

/** Which nodes hang together: island `of[v]` of node v, islands numbered by their lowest node. */
export interface Islands {
  readonly count: number
  readonly of: Int32Array
  readonly size: Int32Array
}

/** As `islandsInPortions`, in one go. */
export function findIslands(graph: Graph, adjacency: Adjacency, edgeIn?: Uint8Array): Islands {
  return wholly(islandsInPortions(graph, adjacency, edgeIn))
}

interface Search {
  readonly adjacency: Adjacency
  readonly edgeIn: Uint8Array | undefined
  readonly of: Int32Array
  readonly queue: Int32Array
  readonly firstOf: number[]
  head: number
  tail: number
  /** The lowest node that has not been looked at as the first of an island. */
  first: number
}

/**
 * The connected parts of the graph; with `edgeIn`, of the edges e with edgeIn[e] = 1 only. All edges give
 * the electrical islands, the metal edges alone the metal sections. A node without edges is an island of
 * one. O(nodes + edges), no recursion. Yields the fraction done.
 */
export function* islandsInPortions(
  graph: Graph,
  adjacency: Adjacency,
  edgeIn?: Uint8Array,
): Generator<number, Islands> {
  const { nodeCount } = graph
  const of = new Int32Array(nodeCount).fill(-1)
  const queue = new Int32Array(nodeCount)
  const search: Search = { adjacency, edgeIn, of, queue, firstOf: [], head: 0, tail: 0, first: 0 }
  while (search.head < nodeCount) {
    searchOn(search)
    yield search.head / nodeCount
  }
  const { firstOf } = search
  const count = firstOf.length
  const size = new Int32Array(count)
  for (let island = 0; island < count; island++) {
    size[island] = (island + 1 < count ? firstOf[island + 1] : nodeCount) - firstOf[island]
  }
  return { count, of, size }
}

function searchOn(search: Search): void {
  const { edgeIn, of, queue, firstOf } = search
  const { start, neighbour, edge } = search.adjacency
  const nodeCount = of.length
  let { head, tail, first } = search
  for (let steps = 0; head < nodeCount && steps < portionSteps;) {
    if (head === tail) {
      while (of[first] >= 0) first++
      of[first] = firstOf.length
      firstOf.push(tail)
      queue[tail++] = first
    }
    const v = queue[head++]
    const end = start[v + 1]
    steps += end - start[v] + 1
    for (let slot = start[v]; slot < end; slot++) {
      const w = neighbour[slot]
      if (of[w] >= 0 || (edgeIn !== undefined && edgeIn[edge[slot]] === 0)) continue
      of[w] = of[v]
      queue[tail++] = w
    }
  }
  search.head = head
  search.tail = tail
  search.first = first
}

/**
 * One node per island whose potential is set to zero: `preferred` (remote earth) in its own island,
 * elsewhere the node with most edges inside the island, the lowest of equals. A node of high degree
 * taken out of the matrix saves most fill. O(nodes + edges).
 */
export function chooseReferences(graph: Graph, islands: Islands, preferred?: number): Int32Array {
  const { nodeCount, from, to } = graph
  const degree = new Int32Array(nodeCount)
  for (let e = 0; e < from.length; e++) {
    if (islands.of[from[e]] !== islands.of[to[e]]) continue
    degree[from[e]]++
    degree[to[e]]++
  }
  const reference = new Int32Array(islands.count).fill(-1)
  for (let v = 0; v < nodeCount; v++) {
    const best = reference[islands.of[v]]
    if (best < 0 || degree[v] > degree[best]) reference[islands.of[v]] = v
  }
  if (preferred !== undefined) {
    assert(preferred >= 0 && preferred < nodeCount, `the preferred reference ${preferred} is not a node`)
    reference[islands.of[preferred]] = preferred
  }
  return reference
}
