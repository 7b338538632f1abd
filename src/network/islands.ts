import { assert } from '../base/assert.ts'
import type { Adjacency, Graph } from './graph.ts'

/** Which nodes hang together: island `of[v]` of node v, islands numbered by their lowest node. */
export interface Islands {
  readonly count: number
  readonly of: Int32Array
  readonly size: Int32Array
}

/**
 * The connected parts of the graph; with `edgeIn`, of the edges e with edgeIn[e] = 1 only. All edges give
 * the electrical islands, the metal edges alone the metal sections. A node without edges is an island of
 * one. O(nodes + edges), no recursion.
 */
export function findIslands(graph: Graph, adjacency: Adjacency, edgeIn?: Uint8Array): Islands {
  const { nodeCount } = graph
  const { start, neighbour, edge } = adjacency
  const of = new Int32Array(nodeCount).fill(-1)
  const queue = new Int32Array(nodeCount)
  const firstOf: number[] = []
  let head = 0
  let tail = 0
  for (let first = 0; first < nodeCount; first++) {
    if (of[first] >= 0) continue
    const island = firstOf.length
    firstOf.push(tail)
    of[first] = island
    queue[tail++] = first
    while (head < tail) {
      const v = queue[head++]
      for (let slot = start[v]; slot < start[v + 1]; slot++) {
        const w = neighbour[slot]
        if (of[w] >= 0 || (edgeIn !== undefined && edgeIn[edge[slot]] === 0)) continue
        of[w] = island
        queue[tail++] = w
      }
    }
  }
  const count = firstOf.length
  const size = new Int32Array(count)
  for (let island = 0; island < count; island++) {
    size[island] = (island + 1 < count ? firstOf[island + 1] : nodeCount) - firstOf[island]
  }
  return { count, of, size }
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
