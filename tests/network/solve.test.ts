import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { pairResistance } from '../../src/network/pairResistance.ts'
import { imbalanceA, kirchhoffResidual, refine } from '../../src/network/residual.ts'
import { pairPotentials, solveInPlace } from '../../src/network/solve.ts'
import { denseInverse } from './denseReference.ts'
import { arrayRows, networkOf, randomConnected, sideBySide } from './randomNetworks.ts'
import { relativeError, solved } from './solved.ts'

describe('solveInPlace', () => {
  it('agrees with a dense reference on several islands, whatever stands at the references', () => {
    for (let seed = 0; seed < 30; seed++) {
      const random = randomStream(seed)
      const network = sideBySide([
        randomConnected(random, 1 + random.integer(30), 20),
        networkOf(1, []),
        randomConnected(random, 25, 5),
      ])
      const n = network.graph.nodeCount
      const inverse = denseInverse(network.graph, network.conductanceS, network.reference)
      const currents = Float64Array.from({ length: n }, () => random.normal())
      const expected = inverse.map((line) => line.reduce((sum, z, v) => sum + z * currents[v], 0))
      const potentialV = solveInPlace(solved(network).factor, currents)
      expect(potentialV).toBe(currents)
      const scale = Math.max(...expected.map(Math.abs))
      expected.forEach((x, v) => expect(Math.abs(potentialV[v] - x)).toBeLessThan(1e-12 * scale))
      for (const r of network.reference) expect(potentialV[r]).toBe(0)
    }
  })

  it('is reciprocal: the potential at b from a current into a is that at a from a current into b', () => {
    const random = randomStream(40)
    const network = arrayRows(random, 3, 3, 5)
    const { factor } = solved(network)
    const at = (from: number, to: number) => {
      const x = new Float64Array(network.graph.nodeCount)
      x[from] = 1
      return solveInPlace(factor, x)[to]
    }
    for (let k = 0; k < 20; k++) {
      const [a, b] = [1 + random.integer(100), 1 + random.integer(100)]
      expect(relativeError(at(a, b), at(b, a))).toBeLessThan(1e-12)
    }
  })

  it('refuses currents that are not finite and leaves a clean scratch', () => {
    const network = randomConnected(randomStream(41), 20, 20)
    const { factor } = solved(network)
    for (const bad of [NaN, Infinity]) {
      const currents = new Float64Array(20)
      currents[network.reference[0] === 5 ? 6 : 5] = bad
      expect(() => solveInPlace(factor, currents)).toThrow('current')
      expect(factor.scratch.every((x) => x === 0)).toBe(true)
    }
  })
})

describe('pairPotentials', () => {
  it('gives what the full solve gives, and the pair its resistance', () => {
    for (let seed = 0; seed < 30; seed++) {
      const random = randomStream(seed)
      const network = sideBySide([randomConnected(random, 30, 20, 2), randomConnected(random, 40, 40, 2)])
      const { factor } = solved(network)
      const out = new Float64Array(70).fill(NaN)
      for (let k = 0; k < 20; k++) {
        const base = k % 2 === 0 ? 0 : 30
        const [a, b] = [base + random.integer(30), base + random.integer(30)]
        const currents = new Float64Array(70)
        currents[a] += 1
        currents[b] -= 1
        const expected = solveInPlace(factor, currents)
        const ohm = pairResistance(factor, a, b)
        expect(pairPotentials(factor, a, b, out)).toBe(out)
        expected.forEach((x, v) => expect(Math.abs(out[v] - x)).toBeLessThanOrEqual(1e-12 * ohm))
        if (a !== b) expect(relativeError(out[a] - out[b], ohm)).toBeLessThan(1e-12)
      }
      expect(factor.scratch.every((x) => x === 0)).toBe(true)
    }
  })

  it('refuses a pair that no path joins', () => {
    const network = sideBySide([networkOf(2, [[0, 1, 1]]), networkOf(1, [])])
    expect(() => pairPotentials(solved(network).factor, 0, 2, new Float64Array(3))).toThrow('no path')
  })

  it('balances the currents at every node of an array', () => {
    const network = arrayRows(randomStream(42), 6, 5, 20)
    const n = network.graph.nodeCount
    const injectedA = new Float64Array(n)
    injectedA[7] = 1
    injectedA[n - 3] = -1
    const x = pairPotentials(solved(network).factor, 7, n - 3, new Float64Array(n))
    expect(kirchhoffResidual(network.graph, network.conductanceS, x, injectedA)).toBeLessThan(1e-10)
  })
})

describe('residual and refinement', () => {
  it('sees a wrong potential and a wrong conductance', () => {
    const network = networkOf(3, [
      [0, 1, 1],
      [1, 2, 1],
    ])
    const injectedA = Float64Array.of(0, -1, 1)
    const { graph, conductanceS } = network
    expect(kirchhoffResidual(graph, conductanceS, Float64Array.of(0, 0, 1), injectedA)).toBe(0)
    expect(kirchhoffResidual(graph, conductanceS, Float64Array.of(0, 0, 1.25), injectedA)).toBeCloseTo(
      0.2,
      15,
    )
    expect(kirchhoffResidual(graph, Float64Array.of(1, 0.5), Float64Array.of(0, 0, 1), injectedA)).toBe(0.5)
    expect(imbalanceA(graph, conductanceS, Float64Array.of(0, 1, 1), injectedA)).toEqual(
      Float64Array.of(1, -2, 1),
    )
    expect(kirchhoffResidual(graph, conductanceS, new Float64Array(3), new Float64Array(3))).toBe(0)
  })

  it('mends the currents of strong edges that stand at a high potential', () => {
    // a loop of three edges of 1e6 S behind an edge of 1e-6 S: potentials of 1e6 V, drops of 3e-7 V
    const network = networkOf(4, [
      [0, 1, 1e-6],
      [1, 2, 1e6],
      [2, 3, 1e6],
      [1, 3, 1e6],
    ])
    const { graph, conductanceS } = network
    const injectedA = Float64Array.of(-1, 0, 1, 0)
    const { factor } = solved(network)
    const x = pairPotentials(factor, 2, 0, new Float64Array(4))
    const delta = refine(factor, graph, conductanceS, x, injectedA)
    const current = (v: Float64Array, e: number) => conductanceS[e] * (v[graph.from[e]] - v[graph.to[e]])
    const exact = [-1, -2 / 3, 1 / 3, -1 / 3]
    const rough = exact.map((i, e) => Math.abs(current(x, e) - i))
    const fine = exact.map((i, e) => Math.abs(current(x, e) + current(delta, e) - i))
    expect(Math.max(...rough)).toBeGreaterThan(1e-6)
    expect(Math.max(...fine)).toBeLessThan(1e-14)
  })
})
