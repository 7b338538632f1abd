import { EigenvalueDecomposition, Matrix } from 'ml-matrix'
import { describe, expect, it } from 'vitest'
import type { RandomStream } from '../../src/base/random.ts'
import { randomStream } from '../../src/base/random.ts'
import { loopConductanceS, riseOhm } from '../../src/network/jointSweep.ts'
import { memberCurrents, settleSet } from '../../src/network/jointSet.ts'
import { currentsWithSet, solveSetCurrents } from '../../src/network/jointSetCurrents.ts'
import { patchedNetwork } from '../network/patchedNetworks.ts'
import { changed, rebuild } from '../network/rebuiltNetwork.ts'
import { solve } from './solvedNetwork.ts'

/*
 * The kernels against ml-matrix 6.12, a general-purpose library of dense linear algebra: a network is written down as its
 * Laplacian, and the library inverts or diagonalises it.
 *
 * Conductances are log-normal with ln-spread 1, a range of some 1e3 from least to largest, in up to 400 parts.
 * The condition of the Laplacian is then 1e4 … 1e6, and the dense side is good to 1e-16 × condition ≈ 1e-10 of its
 * largest entry. Tolerances stand a decade above that; a wrong sign, a missing edge or a wrong index is off by
 * a percent and more.
 */
const AGREE = 1e-9
/** Currents are of order one and less, so this one is absolute, in ampere per ampere. */
const AGREE_A = 1e-9

/** Pairs of nodes of one island. */
function pairsOf(random: RandomStream, islandOf: ArrayLike<number>, count: number): [number, number][] {
  const pairs: [number, number][] = []
  while (pairs.length < count) {
    const a = random.integer(islandOf.length)
    const b = random.integer(islandOf.length)
    if (a !== b && islandOf[a] === islandOf[b]) pairs.push([a, b])
  }
  return pairs
}

describe('a network as built', () => {
  const sizes: [number, number][] = [
    [30, 1],
    [100, 2],
    [200, 3],
    [400, 4],
  ]
  it.each(sizes)('of %i parts: resistances, currents part by part, leverages', (nodeCount, seed) => {
    const random = randomStream(seed)
    const { graph, conductanceS } = patchedNetwork(random, nodeCount)
    const found = solve(graph, conductanceS)
    const dense = rebuild(graph, conductanceS)
    expect(found.islands.count).toBe(dense.islandCount)

    let mismatches = 0
    let worst = 0
    for (let k = 0; k < 3000; k++) {
      const [a, b] = [random.integer(nodeCount), random.integer(nodeCount)]
      const [r, expected] = [found.resistance(a, b), dense.resistance(a, b)]
      if (r === Infinity || expected === Infinity || a === b) mismatches += r === expected ? 0 : 1
      else worst = Math.max(worst, Math.abs(r / expected - 1))
    }
    expect(mismatches).toBe(0)
    expect(worst).toBeLessThan(AGREE)

    for (const [a, b] of pairsOf(random, dense.islandOf, 8)) {
      const currents = found.currents(a, b)
      const expected = dense.currents(a, b)
      const net = new Float64Array(nodeCount)
      let worstA = 0
      for (let e = 0; e < currents.length; e++) {
        worstA = Math.max(worstA, Math.abs(currents[e] - expected[e]))
        net[graph.from[e]] += currents[e]
        net[graph.to[e]] -= currents[e]
      }
      expect(worstA).toBeLessThan(AGREE_A)
      net[a] -= 1
      net[b] += 1
      // Kirchhoff at every part, by the kernels alone: rounding of some tens of currents that are at most 1
      expect(Math.max(...net.map(Math.abs))).toBeLessThan(1e-12)
      // the power of one ampere, Σ r i², is the resistance of the pair
      const power = currents.reduce((sum, i, e) => sum + (i * i) / conductanceS[e], 0)
      expect(Math.abs(power / found.resistance(a, b) - 1)).toBeLessThan(1e-12)
    }

    for (let e = 0; e < graph.from.length; e++) {
      const expected = conductanceS[e] * dense.resistance(graph.from[e], graph.to[e])
      expect(Math.abs(found.leverage[e] - expected)).toBeLessThan(AGREE)
      expect(found.leverage[e] === 1).toBe(found.isBridge[e] === 1)
    }
  })

  it('by eigenvalues: R_ab = Σ (ψ_ia − ψ_ib)²/λ_i', () => {
    // Wu, J. Phys. A 37, 6653 (2004), for a network of one piece
    for (let seed = 10; seed < 16; seed++) {
      const random = randomStream(seed)
      const { graph, conductanceS } = patchedNetwork(random, 60)
      const found = solve(graph, conductanceS)
      const laplacian = Matrix.zeros(60, 60)
      for (let e = 0; e < conductanceS.length; e++) {
        for (const [r, c, sign] of [
          [graph.from[e], graph.from[e], 1],
          [graph.to[e], graph.to[e], 1],
          [graph.from[e], graph.to[e], -1],
          [graph.to[e], graph.from[e], -1],
        ]) {
          laplacian.set(r, c, laplacian.get(r, c) + sign * conductanceS[e])
        }
      }
      const { realEigenvalues: lambda, eigenvectorMatrix: psi } = new EigenvalueDecomposition(laplacian, {
        assumeSymmetric: true,
      })
      // one zero eigenvalue for every island; the others are above 1e-4 here
      const isZero = lambda.map((value) => Math.abs(value) < 1e-10)
      expect(isZero.filter(Boolean).length).toBe(found.islands.count)
      for (const [a, b] of pairsOf(random, found.islands.of, 200)) {
        let expected = 0
        for (let k = 0; k < 60; k++) {
          if (!isZero[k]) expected += (psi.get(a, k) - psi.get(b, k)) ** 2 / lambda[k]
        }
        expect(Math.abs(found.resistance(a, b) / expected - 1)).toBeLessThan(AGREE)
      }
    }
  })
})

describe('one joint raised or open, against the network built anew', () => {
  it.each([
    [60, 21],
    [150, 22],
  ])('in %i parts', (nodeCount, seed) => {
    const random = randomStream(seed)
    const { graph, conductanceS } = patchedNetwork(random, nodeCount)
    const found = solve(graph, conductanceS)
    const cS = loopConductanceS(conductanceS, found.slack)
    const pairs = pairsOf(random, found.islands.of, 12)
    const currents = pairs.map(([a, b]) => found.currents(a, b))
    let infinite = 0
    const bridges = [...found.isBridge.keys()].filter((e) => found.isBridge[e] === 1)
    for (let trial = 0; trial < 60; trial++) {
      const e = trial % 4 === 0 ? bridges[random.integer(bridges.length)] : random.integer(graph.from.length)
      const addedOhm = trial % 3 === 0 ? Infinity : 10 ** (8 * random.uniform() - 4)
      const after = rebuild(graph, changed(conductanceS, [e], [addedOhm]))
      pairs.forEach(([a, b], p) => {
        const read = found.resistance(a, b) + riseOhm(currents[p][e] ** 2, cS[e], addedOhm)
        const expected = after.resistance(a, b)
        if (read === Infinity || expected === Infinity) {
          expect(read).toBe(expected)
          infinite++
        } else expect(Math.abs(read / expected - 1)).toBeLessThan(AGREE)
        expect(read).toBeGreaterThanOrEqual(found.resistance(a, b))
      })
    }
    expect(infinite).toBeGreaterThan(0)
  })
})

describe('a set of joints raised or open, against the network built anew', () => {
  it.each([
    [60, 31, 40],
    [200, 32, 15],
    [400, 33, 3],
  ])('in %i parts: resistances and currents part by part', (nodeCount, seed, trials) => {
    const random = randomStream(seed)
    const { graph, conductanceS } = patchedNetwork(random, nodeCount)
    const found = solve(graph, conductanceS)
    let parted = 0
    for (let trial = 0; trial < trials; trial++) {
      // around one node, so that sets that cut occur in large networks too
      const centre = random.integer(nodeCount)
      const near = [...graph.from.keys()].filter((e) => graph.from[e] === centre || graph.to[e] === centre)
      const members = [...new Set([...near, ...near.map(() => random.integer(graph.from.length))])].slice(
        0,
        8,
      )
      const addedOhm = Float64Array.from(members, () =>
        trial % 3 === 0 || random.uniform() < 0.6 ? Infinity : 10 ** (7 * random.uniform() - 3),
      )
      const read = found.withSet(members, addedOhm)
      const after = rebuild(graph, changed(conductanceS, members, addedOhm))
      for (let k = 0; k < 300; k++) {
        const a = k < 100 ? centre : random.integer(nodeCount)
        const b = random.integer(nodeCount)
        const [r, expected] = [read(a, b), after.resistance(a, b)]
        if (a === b) continue
        if (r === Infinity || expected === Infinity) {
          expect(r).toBe(expected)
          if (found.resistance(a, b) < Infinity) parted++
        } else expect(Math.abs(r / expected - 1)).toBeLessThan(10 * AGREE)
      }

      const set = found.setKernel(Int32Array.from(members))
      const settled = settleSet(set, addedOhm)
      for (const [a, b] of pairsOf(random, found.islands.of, 6)) {
        const i = memberCurrents(set, a, b, new Float64Array(members.length))
        const solved = solveSetCurrents(settled, a, b, i)
        expect(solved === undefined).toBe(after.resistance(a, b) === Infinity)
        if (solved === undefined) continue
        const base = found.currents(a, b)
        const currents = currentsWithSet(settled, solved, conductanceS, base, new Float64Array(base.length))
        const expected = after.currents(a, b)
        const net = new Float64Array(nodeCount)
        let worst = 0
        for (let e = 0; e < base.length; e++) {
          worst = Math.max(worst, Math.abs(currents[e] - expected[e]))
          net[graph.from[e]] += currents[e]
          net[graph.to[e]] -= currents[e]
        }
        expect(worst).toBeLessThan(10 * AGREE_A)
        net[a] -= 1
        net[b] += 1
        expect(Math.max(...net.map(Math.abs))).toBeLessThan(10 * AGREE_A)
      }
    }
    expect(parted).toBeGreaterThan(0)
  })
})
