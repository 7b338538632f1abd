import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { findBlocks } from '../../src/network/blocks.ts'
import { cutLabels, cutsWithin, sideOfCut } from '../../src/network/cutLabels.ts'
import { adjacencyOf } from '../../src/network/graph.ts'
import { findIslands } from '../../src/network/islands.ts'
import { graphOf, patchedNetwork, shuffled } from './patchedNetworks.ts'

describe('cutLabels', () => {
  it('are zero on bridges and on nothing else', () => {
    for (let seed = 0; seed < 30; seed++) {
      const random = randomStream(400 + seed)
      const { graph } = patchedNetwork(random, 80)
      const adjacency = adjacencyOf(graph)
      const { isBridge } = findBlocks(graph, adjacency)
      const { high, low } = cutLabels(graph, adjacency, random)
      for (let e = 0; e < isBridge.length; e++) {
        expect(high[e] === 0 && low[e] === 0).toBe(isBridge[e] === 1)
      }
    }
  })

  it('cancel round every node', () => {
    const random = randomStream(5)
    const { graph } = patchedNetwork(random, 100)
    const adjacency = adjacencyOf(graph)
    const { high, low } = cutLabels(graph, adjacency, random)
    for (let v = 0; v < graph.nodeCount; v++) {
      let h = 0
      let l = 0
      for (let slot = adjacency.start[v]; slot < adjacency.start[v + 1]; slot++) {
        h ^= high[adjacency.edge[slot]]
        l ^= low[adjacency.edge[slot]]
      }
      expect([h, l]).toEqual([0, 0])
    }
  })

  it('part the same nodes as a search without the set, in 4,000 random sets', () => {
    let partingSets = 0
    let mismatches = 0
    for (let seed = 0; seed < 200; seed++) {
      const random = randomStream(500 + seed)
      const { graph } = patchedNetwork(random, 24)
      const adjacency = adjacencyOf(graph)
      const labels = cutLabels(graph, adjacency, random)
      const whole = findIslands(graph, adjacency)
      for (let trial = 0; trial < 20; trial++) {
        const members = shuffled(random, graph.from.length).subarray(0, 1 + random.integer(8))
        const mask = new Uint8Array(graph.from.length).fill(1)
        for (const e of members) mask[e] = 0
        const islands = findIslands(graph, adjacency, mask)
        const cuts = cutsWithin(labels, members)
        expect(cuts.count).toBe(islands.count - whole.count)
        if (cuts.count > 0) partingSets++
        const sides = (v: number) =>
          Array.from({ length: cuts.count }, (_, j) => sideOfCut(labels, members, cuts, j, v)).join('')
        const sideText = Array.from({ length: 24 }, (_, v) => sides(v))
        for (let v = 0; v < 24; v++) {
          for (let w = 0; w < v; w++) {
            const isTogether = whole.of[v] === whole.of[w]
            if (isTogether && (sideText[v] === sideText[w]) !== (islands.of[v] === islands.of[w]))
              mismatches++
          }
        }
        for (let j = 0; j < cuts.count; j++) {
          for (let k = 0; k < members.length; k++) {
            const crosses =
              sideOfCut(labels, members, cuts, j, graph.from[members[k]]) !==
              sideOfCut(labels, members, cuts, j, graph.to[members[k]])
            if (crosses !== (cuts.isIn[j * members.length + k] === 1)) mismatches++
          }
        }
      }
    }
    expect(mismatches).toBe(0)
    expect(partingSets).toBeGreaterThan(1000)
  })

  it('follow the mask: two metal joints cut the metal that soil still joins', () => {
    //  0 ─ 1 ─ 2 ─ 3 ─ 0 in metal, 0 ┄ 2 through soil
    const graph = graphOf(4, [
      [0, 1],
      [1, 2],
      [2, 3],
      [3, 0],
      [0, 2],
    ])
    const adjacency = adjacencyOf(graph)
    const metal = Uint8Array.of(1, 1, 1, 1, 0)
    const pair = [0, 2]
    expect(cutsWithin(cutLabels(graph, adjacency, randomStream(1)), pair).count).toBe(0)
    const inMetal = cutLabels(graph, adjacency, randomStream(1), metal)
    const cuts = cutsWithin(inMetal, pair)
    expect([...cuts.isIn]).toEqual([1, 1])
    const sides = [0, 1, 2, 3].map((v) => sideOfCut(inMetal, pair, cuts, 0, v))
    expect(sides[0]).toBe(sides[3])
    expect(sides[1]).toBe(sides[2])
    expect(sides[0]).not.toBe(sides[1])
  })
})
