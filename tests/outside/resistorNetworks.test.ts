import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { fosterDefect } from '../../src/network/foster.ts'
import type { Graph } from '../../src/network/graph.ts'
import { graphOf, patchedNetwork } from '../network/patchedNetworks.ts'
import {
  cocktailParty,
  complete,
  completeBipartite,
  cycle,
  dodecahedron,
  hypercube,
  icosahedron,
  joinWhere,
  lattice,
  path,
  petersen,
  stepsFrom,
  wheel,
} from './knownGraphs.ts'
import { solve, worstRelative } from './solvedNetwork.ts'

// Exact fractions of unit resistors. The solver adds positive terms only, so that a handful of operations on
// each of at most a hundred nodes leaves some 1e-14; a wrong edge changes the second or third digit.
const EXACT = 1e-12

/** Every pair of the graph at distance d reads byDistance[d − 1]. */
function expectByDistance(graph: Graph, byDistance: number[]) {
  const { resistance } = solve(graph)
  let farthest = 0
  for (let a = 0; a < graph.nodeCount; a++) {
    const steps = stepsFrom(graph, a)
    farthest = Math.max(farthest, ...steps)
    for (let b = 0; b < graph.nodeCount; b++) {
      if (b === a) expect(resistance(a, b)).toBe(0)
      else expect(Math.abs(resistance(a, b) / byDistance[steps[b] - 1] - 1)).toBeLessThan(EXACT)
    }
  }
  expect(farthest).toBe(byDistance.length)
}

describe('distance-regular graphs of unit resistors, every pair', () => {
  // Platonic solids: Van Steenwijk, Am. J. Phys. 66, 90 (1998) (value from memory, computed exactly besides);
  // the others computed exactly from R_ab = Σ (ψ_ia − ψ_ib)²/λ_i (Wu, J. Phys. A 37, 6653, 2004).
  const graphs: [string, Graph, number[]][] = [
    ['tetrahedron', complete(4), [1 / 2]],
    ['cube', hypercube(3), [7 / 12, 3 / 4, 5 / 6]],
    ['octahedron', cocktailParty(3), [5 / 12, 1 / 2]],
    ['icosahedron', icosahedron(), [11 / 30, 7 / 15, 1 / 2]],
    ['dodecahedron', dodecahedron(), [19 / 30, 9 / 10, 16 / 15, 17 / 15, 7 / 6]],
    ['4-cube', hypercube(4), [15 / 32, 7 / 12, 61 / 96, 2 / 3]],
    ['Petersen graph', petersen(), [3 / 5, 4 / 5]],
    ['K3,3', completeBipartite(3), [5 / 9, 2 / 3]],
    ['C5', cycle(5), [4 / 5, 6 / 5]],
    ['C8', cycle(8), [7 / 8, 3 / 2, 15 / 8, 2]],
  ]
  it.each(graphs)('%s', (_, graph, byDistance) => {
    expectByDistance(graph, byDistance)
  })
})

describe('families', () => {
  it('complete graphs read 2/n', () => {
    for (let n = 2; n <= 12; n++) expectByDistance(complete(n), [2 / n])
  })

  it('cycles read k (n − k) / n', () => {
    for (let n = 3; n <= 30; n++) {
      expectByDistance(
        cycle(n),
        Array.from({ length: n >> 1 }, (_, j) => ((j + 1) * (n - j - 1)) / n),
      )
    }
  })

  it('paths read the number of steps', () => {
    for (const n of [2, 3, 10, 60]) {
      expectByDistance(
        path(n),
        Array.from({ length: n - 1 }, (_, j) => j + 1),
      )
    }
  })

  it('wheels: hub to rim 7/15, 5/11, 9/20, along the rim 8/15, 6/11, 11/20', () => {
    // computed exactly
    const found: number[] = []
    for (const n of [4, 5, 6]) {
      const { resistance } = solve(wheel(n))
      for (let k = 0; k < n; k++) {
        expect(Math.abs(resistance(n, k) - resistance(n, 0))).toBeLessThan(EXACT)
        expect(Math.abs(resistance(k, (k + 1) % n) - resistance(0, 1))).toBeLessThan(EXACT)
      }
      found.push(resistance(n, 0), resistance(0, 1))
    }
    expect(worstRelative(found, [7 / 15, 8 / 15, 5 / 11, 6 / 11, 9 / 20, 11 / 20])).toBeLessThan(EXACT)
  })

  it('the unbalanced bridge of 1, 4 over 3, 6 with 10 across reads 16/5 from end to end', () => {
    // Wheatstone's bridge off balance, a textbook problem; the value computed exactly
    //      ┌ 1 ─ 1 ─ 4 ┐
    //    0 ┤     10    ├ 3
    //      └ 3 ─ 2 ─ 6 ┘
    const graph = graphOf(4, [
      [0, 1],
      [1, 3],
      [0, 2],
      [2, 3],
      [1, 2],
    ])
    const { resistance } = solve(
      graph,
      Float64Array.from([1, 4, 3, 6, 10], (ohm) => 1 / ohm),
    )
    expect(Math.abs(resistance(0, 3) / (16 / 5) - 1)).toBeLessThan(EXACT)
  })
})

describe("Foster's sum (Foster 1949; value from memory, computed besides)", () => {
  it('is nodes − 1 on unit graphs, so that an edge of an edge-transitive one reads (nodes − 1)/edges', () => {
    const edgeTransitive = [
      complete(7),
      hypercube(4),
      petersen(),
      completeBipartite(5),
      icosahedron(),
      dodecahedron(),
    ]
    for (const graph of edgeTransitive) {
      const { leverage, endsOhm } = solve(graph)
      const edges = graph.from.length
      expect(fosterDefect(leverage, graph.nodeCount, 1)).toBeLessThan(EXACT)
      const each = new Float64Array(edges).fill((graph.nodeCount - 1) / edges)
      expect(worstRelative(endsOhm, each)).toBeLessThan(EXACT)
    }
    for (const graph of [wheel(9), lattice(7, 9)]) {
      expect(fosterDefect(solve(graph).leverage, graph.nodeCount, 1)).toBeLessThan(EXACT)
    }
  })

  it('is nodes − islands whatever the conductances', () => {
    for (let seed = 0; seed < 20; seed++) {
      const { graph, conductanceS } = patchedNetwork(randomStream(seed), 300, 3)
      const { leverage, islands } = solve(graph, conductanceS)
      expect(islands.count).toBeGreaterThan(1)
      expect(fosterDefect(leverage, graph.nodeCount, islands.count)).toBeLessThan(EXACT)
    }
  })
})

describe('Kirchhoff index, the sum of the resistances of all pairs', () => {
  // MathWorld, "Kirchhoff Index" (as read in 2025): K_n, C_n, K_n,n, cocktail-party graphs, grids, cube;
  // icosahedron, dodecahedron, Petersen graph, 4-cube computed exactly.
  const index = (graph: Graph) => {
    const { resistance } = solve(graph)
    let sum = 0
    for (let a = 0; a < graph.nodeCount; a++) for (let b = 0; b < a; b++) sum += resistance(a, b)
    return sum
  }
  const lists: [string, Graph[], number[]][] = [
    ['K_n, n = 2 … 9', [2, 3, 4, 5, 6, 7, 8, 9].map(complete), [1, 2, 3, 4, 5, 6, 7, 8]],
    ['C_n, n = 3 … 8', [3, 4, 5, 6, 7, 8].map(cycle), [2, 5, 10, 35 / 2, 28, 42]],
    ['K_n,n, n = 1 … 4', [1, 2, 3, 4].map(completeBipartite), [1, 5, 9, 13]],
    ['cocktail-party graphs, n = 2, 3, 4', [2, 3, 4].map(cocktailParty), [5, 13 / 2, 25 / 3]],
    ['n × n grids, n = 2 … 5', [2, 3, 4, 5].map((n) => lattice(n, n)), [5, 69 / 2, 884 / 7, 11155 / 33]],
    [
      'cube, icosahedron, dodecahedron, Petersen graph, 4-cube',
      [hypercube(3), icosahedron(), dodecahedron(), petersen(), hypercube(4)],
      [58 / 3, 28, 548 / 3, 33, 206 / 3],
    ],
  ]
  it.each(lists)('%s', (_, graphs, expected) => {
    expect(worstRelative(graphs.map(index), expected)).toBeLessThan(EXACT)
  })

  it('of cycles (n³ − n)/12 and of paths (n³ − n)/6 (values from memory)', () => {
    for (let n = 3; n < 40; n += 4) {
      expect(Math.abs(index(cycle(n)) / ((n ** 3 - n) / 12) - 1)).toBeLessThan(EXACT)
      expect(Math.abs(index(path(n)) / ((n ** 3 - n) / 6) - 1)).toBeLessThan(EXACT)
    }
  })

  it('grows when an edge is missing (Rayleigh)', () => {
    const cubeWithout = joinWhere(8, (u, v) => ((u ^ v) & ((u ^ v) - 1)) === 0 && !(u === 0 && v === 1))
    expect(cubeWithout.from.length).toBe(11)
    expect(index(cubeWithout)).toBeGreaterThan(index(hypercube(3)) + 1)
  })
})
