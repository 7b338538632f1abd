import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { findBlocks } from '../../src/network/blocks.ts'
import { sideOfBridge, smallerSides } from '../../src/network/bridgeSides.ts'
import type { Graph } from '../../src/network/graph.ts'
import { adjacencyOf } from '../../src/network/graph.ts'
import { findIslands } from '../../src/network/islands.ts'
import { graphOf, patchedNetwork } from './patchedNetworks.ts'

/** Islands without one edge, or without one node and its edges. */
function islandsWithout(graph: Graph, edge: number, node = -1): number {
  const mask = Uint8Array.from(graph.from, (u, e) =>
    e === edge || u === node || graph.to[e] === node ? 0 : 1,
  )
  return findIslands(graph, adjacencyOf(graph), mask).count - (node >= 0 ? 1 : 0)
}

describe('findBlocks', () => {
  it('finds bridges, cut nodes and blocks of a small graph with a parallel pair', () => {
    //  0 ─ 1        3 ═ 4
    //   ╲ ╱  ╲     ╱
    //    2    5 ─ 6        1─5 and 5─6 and 6─3 are bridges, 3═4 is none
    const graph = graphOf(7, [
      [0, 1],
      [1, 2],
      [2, 0],
      [1, 5],
      [5, 6],
      [6, 3],
      [3, 4],
      [4, 3],
    ])
    const blocks = findBlocks(graph, adjacencyOf(graph))
    expect([...blocks.isBridge]).toEqual([0, 0, 0, 1, 1, 1, 0, 0])
    expect([...blocks.blockOf]).toEqual([0, 0, 0, 1, 2, 3, 4, 4])
    expect(blocks.blockCount).toBe(5)
    expect([...blocks.isCut]).toEqual([0, 1, 0, 1, 0, 1, 1])
  })

  it('leaves out the edges outside the mask', () => {
    const graph = graphOf(3, [
      [0, 1],
      [1, 2],
      [2, 0],
    ])
    const blocks = findBlocks(graph, adjacencyOf(graph), Uint8Array.of(1, 0, 1))
    expect([...blocks.isBridge]).toEqual([1, 0, 1])
    expect([...blocks.blockOf]).toEqual([0, -1, 1])
    expect([...blocks.isCut]).toEqual([1, 0, 0])
  })

  it('agrees with taking out every edge and every node in turn', () => {
    for (let seed = 0; seed < 40; seed++) {
      const { graph } = patchedNetwork(randomStream(100 + seed), 40)
      const adjacency = adjacencyOf(graph)
      const blocks = findBlocks(graph, adjacency)
      const count = findIslands(graph, adjacency).count
      for (let e = 0; e < graph.from.length; e++) {
        expect(blocks.isBridge[e] === 1).toBe(islandsWithout(graph, e) > count)
      }
      for (let v = 0; v < graph.nodeCount; v++) {
        expect(blocks.isCut[v] === 1).toBe(islandsWithout(graph, -1, v) > count)
      }
    }
  })

  it('puts two edges at a node in one block exactly when their other ends meet without that node', () => {
    for (let seed = 0; seed < 20; seed++) {
      const { graph } = patchedNetwork(randomStream(200 + seed), 40)
      const adjacency = adjacencyOf(graph)
      const { blockOf, blockCount } = findBlocks(graph, adjacency)
      expect(new Set(blockOf).size).toBe(blockCount)
      for (let v = 0; v < graph.nodeCount; v++) {
        const mask = Uint8Array.from(graph.from, (u, e) => (u === v || graph.to[e] === v ? 0 : 1))
        const { of } = findIslands(graph, adjacency, mask)
        for (let s = adjacency.start[v]; s < adjacency.start[v + 1]; s++) {
          for (let t = adjacency.start[v]; t < s; t++) {
            const meet = of[adjacency.neighbour[s]] === of[adjacency.neighbour[t]]
            expect(blockOf[adjacency.edge[s]] === blockOf[adjacency.edge[t]]).toBe(meet)
          }
        }
      }
    }
  })

  it('walks a path and a ring of a million nodes', () => {
    const n = 1_000_000
    const nodes = Int32Array.from({ length: n }, (_, v) => v)
    const ring: Graph = { nodeCount: n, from: nodes, to: nodes.map((v) => (v + 1) % n) }
    const path: Graph = { nodeCount: n, from: ring.from.subarray(1), to: ring.to.subarray(1) }
    const onPath = findBlocks(path, adjacencyOf(path))
    expect(onPath.blockCount).toBe(n - 1)
    expect(onPath.isBridge.indexOf(0)).toBe(-1)
    const onRing = findBlocks(ring, adjacencyOf(ring))
    expect(onRing.blockCount).toBe(1)
    expect(onRing.isBridge.indexOf(1)).toBe(-1)
    const sides = smallerSides(path, adjacencyOf(path), onPath.isBridge)
    expect(sides.nodes[0]).toBe(1)
    expect(sides.nodes[n / 2 - 1]).toBe(n / 2)
    expect(sides.nodes[n - 2]).toBe(1)
  })
})

describe('the sides of a bridge', () => {
  it('are what a search without the bridge reaches', () => {
    for (let seed = 0; seed < 30; seed++) {
      const { graph } = patchedNetwork(randomStream(300 + seed), 50)
      const adjacency = adjacencyOf(graph)
      const { isBridge } = findBlocks(graph, adjacency)
      const sides = smallerSides(graph, adjacency, isBridge)
      for (let e = 0; e < isBridge.length; e++) {
        if (isBridge[e] === 0) {
          expect([sides.nodes[e], sides.end[e]]).toEqual([0, -1])
          continue
        }
        const { of } = findIslands(
          graph,
          adjacency,
          isBridge.map((_, f) => (f === e ? 0 : 1)),
        )
        const nodesWith = (v: number) => [...of.keys()].filter((w) => of[w] === of[v])
        const from = nodesWith(graph.from[e])
        const to = nodesWith(graph.to[e])
        const smaller = from.length < to.length ? from : to
        expect(sides.nodes[e]).toBe(smaller.length)
        expect(smaller).toContain(sides.end[e])
        expect([...sideOfBridge(graph, adjacency, e)]).toEqual(smaller)
        expect([...sideOfBridge(graph, adjacency, e, from[0])]).toEqual(to)
        expect([...sideOfBridge(graph, adjacency, e, to[to.length - 1])]).toEqual(from)
      }
    }
  })

  it('follow the mask, and an edge that is no bridge has none', () => {
    const graph = graphOf(4, [
      [0, 1],
      [1, 2],
      [2, 0],
      [2, 3],
    ])
    const adjacency = adjacencyOf(graph)
    expect(() => sideOfBridge(graph, adjacency, 0)).toThrow('no bridge')
    const metal = Uint8Array.of(1, 1, 0, 1)
    const { isBridge } = findBlocks(graph, adjacency, metal)
    const sides = smallerSides(graph, adjacency, isBridge, metal)
    expect([...sides.nodes]).toEqual([1, 2, 0, 1])
    expect([...sideOfBridge(graph, adjacency, 1, 3, metal)]).toEqual([0, 1])
  })
})
