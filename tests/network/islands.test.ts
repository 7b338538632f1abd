import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { adjacencyOf } from '../../src/network/graph.ts'
import { chooseReferences, findIslands } from '../../src/network/islands.ts'
import { spanningForest } from '../../src/network/spanningForest.ts'
import { graphOf, patchedNetwork } from './patchedNetworks.ts'
import { rebuild } from './rebuiltNetwork.ts'

describe('findIslands', () => {
  //  0 ─ 1 ═ 2    3    4 ─ 5
  const graph = graphOf(6, [
    [1, 0],
    [1, 2],
    [2, 1],
    [5, 4],
  ])
  const adjacency = adjacencyOf(graph)

  it('numbers islands by their lowest node and counts their nodes', () => {
    const islands = findIslands(graph, adjacency)
    expect(islands.count).toBe(3)
    expect([...islands.of]).toEqual([0, 0, 0, 1, 2, 2])
    expect([...islands.size]).toEqual([3, 1, 2])
  })

  it('sees only the edges of the mask', () => {
    const islands = findIslands(graph, adjacency, Uint8Array.of(0, 0, 1, 1))
    expect([...islands.of]).toEqual([0, 1, 1, 2, 3, 3])
    expect([...islands.size]).toEqual([1, 2, 1, 2])
  })

  it('agrees with union-find on random networks', () => {
    for (let seed = 0; seed < 50; seed++) {
      const { graph: g, conductanceS } = patchedNetwork(randomStream(seed), 60)
      const islands = findIslands(g, adjacencyOf(g))
      const { islandOf, islandCount } = rebuild(g, conductanceS)
      expect(islands.count).toBe(islandCount)
      for (let v = 0; v < 60; v++) {
        for (let w = 0; w < v; w++) expect(islands.of[v] === islands.of[w]).toBe(islandOf[v] === islandOf[w])
      }
      expect(islands.size.reduce((sum, size) => sum + size, 0)).toBe(60)
    }
  })

  it('has no islands in an empty graph', () => {
    const empty = graphOf(0, [])
    expect(findIslands(empty, adjacencyOf(empty)).count).toBe(0)
  })
})

describe('chooseReferences', () => {
  const graph = graphOf(7, [
    [0, 1],
    [1, 2],
    [2, 3],
    [1, 3],
    [4, 5],
  ])
  const adjacency = adjacencyOf(graph)
  const islands = findIslands(graph, adjacency)

  it('takes the busiest node of each island, the lowest of equals', () => {
    expect([...chooseReferences(graph, islands)]).toEqual([1, 4, 6])
  })

  it('takes the preferred node where it belongs and no other island changes', () => {
    expect([...chooseReferences(graph, islands, 5)]).toEqual([1, 5, 6])
    expect(() => chooseReferences(graph, islands, 7)).toThrow('is not a node')
  })
})

describe('spanningForest', () => {
  it('lists parents first, joins every node to its island and counts subtrees', () => {
    const { graph } = patchedNetwork(randomStream(11), 200)
    const adjacency = adjacencyOf(graph)
    const { order, parent, parentEdge, size } = spanningForest(graph, adjacency)
    const islands = findIslands(graph, adjacency)
    const seen = new Set<number>()
    const below = new Map<number, number>()
    for (const v of order) {
      if (parent[v] >= 0) {
        expect(seen.has(parent[v])).toBe(true)
        const ends = [graph.from[parentEdge[v]], graph.to[parentEdge[v]]]
        expect(ends).toContain(v)
        expect(ends).toContain(parent[v])
      } else expect(size[v]).toBe(islands.size[islands.of[v]])
      seen.add(v)
      for (let w = v; w >= 0; w = parent[w]) below.set(w, (below.get(w) ?? 0) + 1)
    }
    expect(seen.size).toBe(200)
    expect(parent.filter((p) => p < 0).length).toBe(islands.count)
    for (const [v, count] of below) expect(size[v]).toBe(count)
  })
})
