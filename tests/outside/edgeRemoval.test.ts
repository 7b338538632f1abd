import { describe, expect, it } from 'vitest'
import type { Graph } from '../../src/network/graph.ts'
import { besideOhm, loopConductanceS, riseOhm } from '../../src/network/jointSweep.ts'
import { graphOf } from '../network/patchedNetworks.ts'
import {
  cocktailParty,
  complete,
  completeBipartite,
  cycle,
  dodecahedron,
  hypercube,
  icosahedron,
  lattice,
  path,
  petersen,
  stepsFrom,
} from './knownGraphs.ts'
import { solve } from './solvedNetwork.ts'

// Exact fractions. The slack 1 − h of these graphs is above 0.3, so that nothing cancels in one joint; a set of
// K joints costs some K² operations on numbers of order one.
const EXACT = 1e-12

function withoutEdges(graph: Graph, edges: readonly number[]): Graph {
  const gone = new Set(edges)
  const kept = [...graph.from.keys()].filter((e) => !gone.has(e))
  return graphOf(
    graph.nodeCount,
    kept.map((e): [number, number] => [graph.from[e], graph.to[e]]),
  )
}

/** The edges of `whole` that are not in `part`; both on the same nodes. */
function edgesMissing(whole: Graph, part: Graph): number[] {
  const name = (g: Graph, e: number) =>
    Math.min(g.from[e], g.to[e]) * g.nodeCount + Math.max(g.from[e], g.to[e])
  const has = new Set([...part.from.keys()].map((e) => name(part, e)))
  return [...whole.from.keys()].filter((e) => !has.has(name(whole, e)))
}

describe("an edge taken out reads R' = R r / (r − R) across its ends", () => {
  // computed exactly from the edge-transitive R = (nodes − 1)/edges; cube, for one: 7/12 becomes 7/5
  const solids: [string, Graph, number, number][] = [
    ['tetrahedron', complete(4), 1 / 2, 1],
    ['cube', hypercube(3), 7 / 12, 7 / 5],
    ['octahedron', cocktailParty(3), 5 / 12, 5 / 7],
    ['icosahedron', icosahedron(), 11 / 30, 11 / 19],
    ['dodecahedron', dodecahedron(), 19 / 30, 19 / 11],
    ['K5', complete(5), 2 / 5, 2 / 3],
  ]
  it.each(solids)('%s', (_, graph, whole, open) => {
    const { conductanceS, endsOhm, slack, resistance, withOpen } = solve(graph)
    const beside = besideOhm(endsOhm, slack)
    const cS = loopConductanceS(conductanceS, slack)
    for (let e = 0; e < graph.from.length; e++) {
      const [u, v] = [graph.from[e], graph.to[e]]
      expect(Math.abs(resistance(u, v) / whole - 1)).toBeLessThan(EXACT)
      expect(Math.abs(beside[e] / open - 1)).toBeLessThan(EXACT)
      expect(Math.abs((whole + riseOhm(whole * whole, cS[e], Infinity)) / open - 1)).toBeLessThan(EXACT)
      expect(Math.abs(withOpen([e])(u, v) / open - 1)).toBeLessThan(EXACT)
      expect(Math.abs(solve(withoutEdges(graph, [e])).resistance(u, v) / open - 1)).toBeLessThan(EXACT)
    }
  })

  it('a missing bond of the square lattice reads 1', () => {
    // Cserti, Dávid & Piróth, Am. J. Phys. 70, 153 (2002): value from memory, and 0.5/(1 − 0.5). On a torus of n nodes
    // R = (1 − 1/n)/2 by Foster's sum, so that R/(1 − R) = (n − 1)/(n + 1) is 1 − 2/n but for n⁻².
    for (const size of [8, 24, 72]) {
      const n = size * size
      const graph = lattice(size, size, true, true)
      const { endsOhm, slack, withOpen } = solve(graph)
      const [across] = besideOhm(endsOhm, slack)
      expect(Math.abs(across / ((n - 1) / (n + 1)) - 1)).toBeLessThan(EXACT)
      expect(Math.abs(across - 1)).toBeLessThan(2.1 / n)
      expect(Math.abs(withOpen([0])(graph.from[0], graph.to[0]) / across - 1)).toBeLessThan(EXACT)
    }
  })

  it('an edge of a tree reads its own ohms, and nothing when it is open', () => {
    const graph = path(9)
    const { isBridge, endsOhm, slack, withOpen, withSet } = solve(graph, new Float64Array(8).fill(4))
    expect([...isBridge]).toEqual(new Array(8).fill(1))
    expect([...besideOhm(endsOhm, slack)]).toEqual(new Array(8).fill(Infinity))
    for (let e = 0; e < 8; e++) {
      expect(Math.abs(endsOhm[e] / 0.25 - 1)).toBeLessThan(EXACT)
      expect(withOpen([e])(e, e + 1)).toBe(Infinity)
      expect(Math.abs(withSet([e], [3])(0, 8) / 5 - 1)).toBeLessThan(EXACT)
    }
  })

  it('a raised edge of the cube reads its r + Δ beside 7/5', () => {
    const graph = hypercube(3)
    const { withSet } = solve(graph)
    for (const added of [0.01, 1, 9, 1e6]) {
      const expected = 1 / (1 / (1 + added) + 5 / 7)
      expect(Math.abs(withSet([5], [added])(graph.from[5], graph.to[5]) / expected - 1)).toBeLessThan(EXACT)
    }
  })
})

describe('a known graph carved out of another by opening a set of joints', () => {
  /** Every pair at distance d of the carved graph reads byDistance[d − 1]. */
  const expectCarved = (whole: Graph, part: Graph, members: number, byDistance: number[]) => {
    const edges = edgesMissing(whole, part)
    expect(edges.length).toBe(members)
    const read = solve(whole).withOpen(edges)
    for (let a = 0; a < part.nodeCount; a++) {
      const steps = stepsFrom(part, a)
      for (let b = 0; b < a; b++) {
        expect(Math.abs(read(a, b) / byDistance[steps[b] - 1] - 1)).toBeLessThan(EXACT)
      }
    }
  }
  const cube = [7 / 12, 3 / 4, 5 / 6]

  it('K6 without a perfect matching is the octahedron', () => {
    expectCarved(complete(6), cocktailParty(3), 3, [5 / 12, 1 / 2])
  })
  it('K5 without a pentagon is a pentagon', () => {
    expectCarved(complete(5), cycle(5), 5, [4 / 5, 6 / 5])
  })
  it('K4,4 without a perfect matching is the cube', () => {
    // corners by parity: even ones 0 … 3, odd ones their opposites' places 4 … 7
    const even = [0, 3, 5, 6]
    const read = (() => {
      const whole = completeBipartite(4)
      const opposite = [...whole.from.keys()].filter((e) => whole.to[e] - whole.from[e] === 4)
      expect(opposite.length).toBe(4)
      return solve(whole).withOpen(opposite)
    })()
    const corner = [...even, ...even.map((c) => c ^ 7)]
    for (let a = 0; a < 8; a++) {
      for (let b = 0; b < a; b++) {
        const differs = corner[a] ^ corner[b]
        const distance = (differs & 1) + ((differs >> 1) & 1) + (differs >> 2)
        expect(Math.abs(read(a, b) / cube[distance - 1] - 1)).toBeLessThan(EXACT)
      }
    }
  })
  it('K8 without 16 edges is the cube, K10 without 30 the Petersen graph', () => {
    expectCarved(complete(8), hypercube(3), 16, cube)
    expectCarved(complete(10), petersen(), 30, [3 / 5, 4 / 5])
  })

  it('the 5 × 4 torus opened along one seam is a cylinder, along both the free lattice of Wu 2004', () => {
    // cylinder 1169807/994004 and lattice 2356898/1380027 computed exactly; the lattice is 3/4 + 3/5 + 9877231/27600540 of
    // Wu, J. Phys. A 37, 6653 (2004), value from memory
    const torus = lattice(5, 4, true, true)
    const { withOpen } = solve(torus)
    const seams = edgesMissing(torus, lattice(5, 4, false, true))
    const both = edgesMissing(torus, lattice(5, 4))
    expect([seams.length, both.length]).toEqual([4, 9])
    expect(Math.abs(withOpen(seams)(0, 18) / (1169807 / 994004) - 1)).toBeLessThan(EXACT)
    expect(Math.abs(withOpen(both)(0, 18) / (2356898 / 1380027) - 1)).toBeLessThan(EXACT)
  })

  it('a corner cut off the cube reads nothing, the other seven read as the cube without it', () => {
    const graph = hypercube(3)
    const atCorner = [...graph.from.keys()].filter((e) => graph.from[e] === 0 || graph.to[e] === 0)
    expect(atCorner.length).toBe(3)
    const read = solve(graph).withOpen(atCorner)
    const rest = solve(withoutEdges(graph, atCorner))
    for (let a = 1; a < 8; a++) {
      expect(read(0, a)).toBe(Infinity)
      for (let b = 1; b < a; b++) {
        expect(Math.abs(read(a, b) / rest.resistance(a, b) - 1)).toBeLessThan(EXACT)
      }
    }
  })
})
