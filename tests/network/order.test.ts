import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { analysePattern } from '../../src/network/analyse.ts'
import { eliminationTree, type EliminationOrder } from '../../src/network/eliminationTree.ts'
import { adjacencyOf } from '../../src/network/graph.ts'
import { minimumDegreeOrder } from '../../src/network/minimumDegree.ts'
import { orderNodes } from '../../src/network/order.ts'
import { roomForLists } from '../../src/network/quotientGraph.ts'
import {
  edgesOf,
  grid,
  ladder,
  networkOf,
  randomConnected,
  sideBySide,
  type Network,
} from './randomNetworks.ts'
import { runToEnd } from './runToEnd.ts'

function eliminationOf({ graph, reference }: Network): EliminationOrder {
  return runToEnd(orderNodes(graph, adjacencyOf(graph), reference))
}

const orderOf = (network: Network) => eliminationOf(network).order

function patternOf(network: Network) {
  return runToEnd(analysePattern(network.graph, adjacencyOf(network.graph), eliminationOf(network)))
}

/** Fill by plain elimination on sets: the later neighbours of each node when its turn comes. */
function columnsBySets(network: Network, order: Int32Array): number[][] {
  const near = Array.from(order, () => new Set<number>())
  for (const [u, v] of edgesOf(network)) {
    near[u].add(v)
    near[v].add(u)
  }
  const position = new Map(Array.from(order, (v, k) => [v, k]))
  return Array.from(order, (v) => {
    for (const u of near[v]) {
      near[u].delete(v)
      for (const w of near[v]) if (w !== u) near[u].add(w)
    }
    return Array.from(near[v], (u) => position.get(u) ?? -1).sort((x, y) => x - y)
  })
}

/** Entries of the factor when a node of least exact degree, the lowest of equals, is eliminated each time. */
function entriesOfExactMinimumDegree(network: Network): number {
  const near = Array.from({ length: network.graph.nodeCount }, () => new Set<number>())
  for (const [u, v] of edgesOf(network)) {
    near[u].add(v)
    near[v].add(u)
  }
  const left = new Set(near.keys())
  let entries = 0
  while (left.size > 0) {
    let best = -1
    for (const v of left) if (best < 0 || near[v].size < near[best].size) best = v
    left.delete(best)
    entries += near[best].size
    for (const u of near[best]) {
      near[u].delete(best)
      for (const w of near[best]) if (w !== u) near[u].add(w)
    }
  }
  return entries
}

const anyNetwork = fc
  .tuple(
    fc.integer({ min: 0, max: 2 ** 31 - 1 }),
    fc.integer({ min: 1, max: 60 }),
    fc.integer({ min: 0, max: 90 }),
  )
  .map(([seed, nodes, extra]) => randomConnected(randomStream(seed), nodes, extra))

describe('orderNodes', () => {
  it('names every node once, island by island, each ending with its reference', () => {
    const check = fc.property(fc.array(anyNetwork, { minLength: 1, maxLength: 4 }), (networks) => {
      const network = sideBySide(networks)
      const order = orderOf(network)
      expect([...order].sort((a, b) => a - b)).toEqual([...order.keys()])
      order.forEach((v, k) => {
        const isEnd = k + 1 === order.length || network.islandOf[order[k + 1]] !== network.islandOf[v]
        expect(network.reference.includes(v)).toBe(isEnd)
      })
    })
    fc.assert(check, { seed: 11, numRuns: 60 })
  })

  it('hands over the elimination tree of its order, and where each node stands in it', () => {
    const check = fc.property(fc.array(anyNetwork, { minLength: 1, maxLength: 4 }), (networks) => {
      const network = sideBySide(networks)
      const { order, position, parent } = eliminationOf(network)
      expect([...order].map((v) => position[v])).toEqual([...order.keys()])
      expect(parent).toEqual(runToEnd(eliminationTree(adjacencyOf(network.graph), order, position)))
    })
    fc.assert(check, { seed: 13, numRuns: 60 })
  })

  it('keeps every subtree together, right before its root', () => {
    const check = fc.property(fc.array(anyNetwork, { minLength: 1, maxLength: 4 }), (networks) => {
      const { parent } = eliminationOf(sideBySide(networks))
      const size = Array.from(parent, () => 1)
      const first = Array.from(parent, (_, k) => k)
      parent.forEach((up, k) => {
        expect(first[k]).toBe(k + 1 - size[k])
        if (up < 0) return
        size[up] += size[k]
        first[up] = Math.min(first[up], first[k])
      })
    })
    fc.assert(check, { seed: 14, numRuns: 60 })
  })

  it('orders an empty graph and a single node', () => {
    expect(orderOf(networkOf(0, []))).toEqual(new Int32Array(0))
    expect(orderOf(networkOf(1, []))).toEqual(Int32Array.of(0))
  })

  it('makes about as little fill as exact minimum degree on a mesh', () => {
    for (const width of [32, 48]) {
      const network = grid(width, width)
      const entries = patternOf(network).row.length
      expect(entries).toBeLessThan(1.1 * entriesOfExactMinimumDegree(network))
    }
  })

  it('makes no fill on a star and little on a ladder, whose elimination tree stays low', () => {
    const star = networkOf(
      1001,
      Array.from({ length: 1000 }, (_, k) => [0, k + 1, 1] as const),
      1,
    )
    expect(patternOf(star).row.length).toBe(1000)
    const { parent, row } = patternOf(ladder(4096, 1, 1))
    expect(row.length).toBeLessThan(4 * parent.length)
    const height = new Int32Array(parent.length)
    for (let k = parent.length - 1; k >= 0; k--) height[k] = parent[k] < 0 ? 0 : height[parent[k]] + 1
    expect(Math.max(...height)).toBeLessThan(100)
  })

  it('keeps a wheel cheap although its hub has very many neighbours', () => {
    const n = 20_000
    const rim = Array.from({ length: n }, (_, k) => [k + 1, ((k + 1) % n) + 1, 1] as const)
    const spokes = Array.from({ length: n }, (_, k) => [0, k + 1, 1] as const)
    expect(patternOf(networkOf(n + 1, [...rim, ...spokes], 1)).row.length).toBeLessThan(5 * n)
  })

  it('gives the same order for the same graph', () => {
    const network = randomConnected(randomStream(3), 500, 700)
    expect(orderOf(network)).toEqual(orderOf(network))
  })

  it('orders complete graphs, where all nodes become one, and crowded graphs', () => {
    for (const n of [2, 3, 30]) {
      const start = Int32Array.from({ length: n + 1 }, (_, i) => i * (n - 1))
      const lists = roomForLists(n * (n - 1), n)
      for (let s = 0; s < n * (n - 1); s++) {
        const [i, k] = [Math.floor(s / (n - 1)), s % (n - 1)]
        lists[s] = k < i ? k : k + 1
      }
      expect([...runToEnd(minimumDegreeOrder(start, lists))].sort((a, b) => a - b)).toEqual([
        ...Array(n).keys(),
      ])
    }
    const order = orderOf(randomConnected(randomStream(8), 3000, 9000))
    expect(new Set(order).size).toBe(3000)
  })
})

describe('analysePattern', () => {
  it('finds exactly the entries that plain elimination fills', () => {
    const check = fc.property(anyNetwork, (network) => {
      const { order, start, row, parent, root, slot, position } = patternOf(network)
      const columns = columnsBySets(network, order)
      columns.forEach((column, j) => {
        expect([...row.subarray(start[j], start[j + 1])]).toEqual(column)
        expect(parent[j]).toBe(column.length > 0 ? column[0] : -1)
        expect(root[j]).toBe(order.length - 1)
      })
      edgesOf(network).forEach(([u, v], e) => {
        const [low, high] = [position[u], position[v]].sort((a, b) => a - b)
        expect(row[slot[e]]).toBe(high)
        expect(slot[e]).toBeGreaterThanOrEqual(start[low])
        expect(slot[e]).toBeLessThan(start[low + 1])
      })
    })
    fc.assert(check, { seed: 12, numRuns: 60 })
  })
})
