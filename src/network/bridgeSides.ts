import { assert } from '../base/assert.ts'
import type { Adjacency, Graph } from './graph.ts'
import { spanningForest } from './spanningForest.ts'

/** For each edge: the nodes on the smaller side if it is a bridge (else 0), and the end on that side (else −1). */
export interface SmallerSides {
  readonly nodes: Int32Array
  readonly end: Int32Array
}

/**
 * How many nodes each bridge would cut off at least. A spanning tree holds every bridge, and the subtree
 * below one is a whole side of it. Of equal sides, the one with the `to` end counts. O(nodes + edges).
 */
export function smallerSides(
  graph: Graph,
  adjacency: Adjacency,
  isBridge: Uint8Array,
  edgeIn?: Uint8Array,
): SmallerSides {
  const { order, parent, parentEdge, size } = spanningForest(graph, adjacency, edgeIn)
  const edgeCount = graph.from.length
  const nodes = new Int32Array(edgeCount)
  const end = new Int32Array(edgeCount).fill(-1)
  let islandSize = 0
  for (const v of order) {
    const e = parentEdge[v]
    if (e < 0) islandSize = size[v]
    else if (isBridge[e] === 1) {
      const below = size[v]
      const above = islandSize - below
      nodes[e] = Math.min(below, above)
      end[e] = below === above ? graph.to[e] : below < above ? v : parent[v]
    }
  }
  return { nodes, end }
}

/**
 * The nodes that a break of `bridge` parts from `near`, ascending; where `near` is left out or is not
 * in this island, the nodes of the smaller side (of equal sides, the one with the `to` end).
 * Two searches go in step from both ends, so the cost is that of the answer and the smaller side,
 * plus one byte per node. Throws when the edge is no bridge.
 */
export function sideOfBridge(
  graph: Graph,
  adjacency: Adjacency,
  bridge: number,
  near?: number,
  edgeIn?: Uint8Array,
): Int32Array {
  const { start, neighbour, edge } = adjacency
  const sideOf = new Uint8Array(graph.nodeCount)
  const found = [[graph.to[bridge]], [graph.from[bridge]]]
  const head = [0, 0]
  sideOf[found[0][0]] = 1
  sideOf[found[1][0]] = 2

  const visitNext = (side: number) => {
    const v = found[side][head[side]++]
    for (let slot = start[v]; slot < start[v + 1]; slot++) {
      const e = edge[slot]
      if (e === bridge || (edgeIn !== undefined && edgeIn[e] === 0)) continue
      const w = neighbour[slot]
      if (sideOf[w] === side + 1) continue
      assert(sideOf[w] === 0, `edge ${bridge} is no bridge`)
      sideOf[w] = side + 1
      found[side].push(w)
    }
  }
  const isDone = (side: number) => head[side] === found[side].length

  while (!isDone(0) && !isDone(1)) {
    visitNext(0)
    visitNext(1)
  }
  const smaller = isDone(0) ? 0 : 1
  const wanted = near !== undefined && sideOf[near] === smaller + 1 ? 1 - smaller : smaller
  while (!isDone(wanted)) visitNext(wanted)
  return Int32Array.from(found[wanted]).sort()
}
