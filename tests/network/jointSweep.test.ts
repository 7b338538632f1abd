import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { findBlocks } from '../../src/network/blocks.ts'
import { bridgeCurrent, edgeCurrents, settleBridgeCurrents } from '../../src/network/currents.ts'
import { fosterDefect } from '../../src/network/foster.ts'
import { adjacencyOf } from '../../src/network/graph.ts'
import {
  addedOhmForRise,
  besideOhm,
  largestRiseOhm,
  loopConductanceS,
  riseOhm,
  rowsFromCurrents,
  rowsFromPotentials,
  sweepJoints,
} from '../../src/network/jointSweep.ts'
import { graphOf, patchedNetwork } from './patchedNetworks.ts'
import { changed, rebuild } from './rebuiltNetwork.ts'

/** A random network with all that the kernels ask for, from the dense solution. */
function prepared(seed: number, nodeCount: number) {
  const random = randomStream(seed)
  const { graph, conductanceS } = patchedNetwork(random, nodeCount)
  const dense = rebuild(graph, conductanceS)
  const { isBridge } = findBlocks(graph, adjacencyOf(graph))
  const endsOhm = Float64Array.from(graph.from, (u, e) => dense.resistance(u, graph.to[e]))
  const slack = endsOhm.map((ohm, e) => (isBridge[e] === 1 ? 0 : 1 - conductanceS[e] * ohm))
  const pairs: [number, number][] = []
  while (pairs.length < 6) {
    const a = random.integer(nodeCount)
    const b = random.integer(nodeCount)
    if (a !== b && dense.islandOf[a] === dense.islandOf[b]) pairs.push([a, b])
  }
  return { random, graph, conductanceS, dense, isBridge, endsOhm, slack, pairs }
}

// Both sides come from a dense factorisation of networks of some 30 nodes whose conductances spread over four
// decades: 1e-16 × condition ≈ 1e-12, and the slack of a nearly bridging joint loses up to two more digits.
const AGREE = 1e-9

describe('the rise that one joint makes', () => {
  it('is what rebuilding the network with that joint raised or open gives', () => {
    let bridgesOnPath = 0
    for (let seed = 0; seed < 5; seed++) {
      const { graph, conductanceS, dense, isBridge, slack, pairs } = prepared(600 + seed, 32)
      const cS = loopConductanceS(conductanceS, slack)
      const currents = pairs.map(([a, b]) =>
        settleBridgeCurrents(
          isBridge,
          edgeCurrents(graph, conductanceS, dense.potentials(a, b), new Float64Array(graph.from.length)),
        ),
      )
      for (let e = 0; e < graph.from.length; e++) {
        for (const addedOhm of [1e-4, 0.3, 20, 1e5, Infinity]) {
          const after = rebuild(graph, changed(conductanceS, [e], [addedOhm]))
          pairs.forEach(([a, b], p) => {
            const rise = riseOhm(currents[p][e] ** 2, cS[e], addedOhm)
            const base = dense.resistance(a, b)
            const expected = after.resistance(a, b)
            expect(rise).toBeGreaterThanOrEqual(0)
            if (isBridge[e] === 1 && addedOhm === Infinity) {
              expect(base + rise === Infinity).toBe(expected === Infinity)
              if (rise === Infinity) bridgesOnPath++
            }
            if (expected < Infinity) expect(Math.abs(base + rise - expected)).toBeLessThan(AGREE * expected)
          })
        }
      }
    }
    expect(bridgesOnPath).toBeGreaterThan(10)
  })

  it('has the limits of no gain and of an open joint, and never NaN', () => {
    expect(riseOhm(0.25, 2, 0)).toBe(0)
    expect(riseOhm(0.25, 2, Infinity)).toBe(0.125)
    expect(largestRiseOhm(0.25, 2)).toBe(0.125)
    expect(riseOhm(0.25, 2, 1e-9)).toBeCloseTo(0.25e-9 * (1 - 2e-9), 24)
    expect(riseOhm(0.25, 2, 1e12)).toBeCloseTo(0.125, 12)
    expect(riseOhm(1, 0, 7)).toBeCloseTo(7, 14)
    expect(riseOhm(1, 0, Infinity)).toBe(Infinity)
    expect(largestRiseOhm(1, 0)).toBe(Infinity)
    for (const addedOhm of [0, 5, 1e308, Infinity]) {
      expect(riseOhm(0, 0, addedOhm)).toBe(0)
      expect(riseOhm(0, 3, addedOhm)).toBe(0)
    }
    expect(largestRiseOhm(0, 0)).toBe(0)
  })

  it('grows with the ohms gained', () => {
    let last = 0
    for (let exponent = -9; exponent < 9; exponent++) {
      const rise = riseOhm(0.3, 0.7, 10 ** exponent)
      expect(rise).toBeGreaterThan(last)
      expect(rise).toBeLessThan(largestRiseOhm(0.3, 0.7))
      last = rise
    }
  })

  it('tells back the ohms', () => {
    for (const [i2, cS] of [
      [0.3, 0.7],
      [1, 0],
      [1e-4, 900],
    ]) {
      for (const addedOhm of [1e-6, 1e-3, 1, 50]) {
        const back = addedOhmForRise(i2, cS, riseOhm(i2, cS, addedOhm))
        // near its largest the rise says little about the ohms: 1 + ρ c of its last digits remain
        expect(Math.abs((back ?? NaN) / addedOhm - 1)).toBeLessThan(1e-15 * (4 + addedOhm * cS))
      }
    }
    expect(addedOhmForRise(0.25, 2, 0)).toBe(0)
    expect(addedOhmForRise(0.25, 2, -1)).toBe(0)
    expect(addedOhmForRise(0.25, 2, 0.125)).toBe(Infinity)
    expect(addedOhmForRise(0.25, 2, 0.126)).toBeUndefined()
    expect(addedOhmForRise(0, 2, 1e-12)).toBeUndefined()
    expect(addedOhmForRise(0, 0, 1)).toBeUndefined()
    expect(addedOhmForRise(1, 0, Infinity)).toBe(Infinity)
  })
})

describe('across its own ends', () => {
  it('an open joint reads the path beside it, which rebuilding confirms', () => {
    for (let seed = 0; seed < 6; seed++) {
      const { graph, conductanceS, isBridge, endsOhm, slack } = prepared(700 + seed, 30)
      const beside = besideOhm(endsOhm, slack)
      const cS = loopConductanceS(conductanceS, slack)
      for (let e = 0; e < graph.from.length; e++) {
        const expected = rebuild(graph, changed(conductanceS, [e], [Infinity])).resistance(
          graph.from[e],
          graph.to[e],
        )
        if (isBridge[e] === 1) {
          expect(beside[e]).toBe(Infinity)
          expect(expected).toBe(Infinity)
          expect(cS[e]).toBe(0)
        } else {
          expect(Math.abs(beside[e] - expected)).toBeLessThan(AGREE * expected)
          // 1/c is the joint and the path beside it in series
          expect(Math.abs(1 / cS[e] - (1 / conductanceS[e] + expected))).toBeLessThan(AGREE / cS[e])
        }
      }
    }
  })

  it('a metal bridge rises without limit in metal and to the soil path electrically', () => {
    //  0 ─ 1 of 1 mΩ; 0 and 1 to earth 2 through 10 Ω each
    const graph = graphOf(3, [
      [0, 1],
      [0, 2],
      [1, 2],
    ])
    const g = Float64Array.of(1000, 0.1, 0.1)
    const slackWithSoil = 1 - g[0] / (g[0] + 0.05)
    const [electricalS] = loopConductanceS(g.subarray(0, 1), Float64Array.of(slackWithSoil))
    const [metalS] = loopConductanceS(g.subarray(0, 1), Float64Array.of(0))
    const { isBridge } = findBlocks(graph, adjacencyOf(graph), Uint8Array.of(1, 0, 0))
    expect([...isBridge]).toEqual([1, 0, 0])
    const i = 1 - slackWithSoil
    expect(largestRiseOhm(i * i, metalS)).toBe(Infinity)
    const base = rebuild(graph, g).resistance(0, 1)
    expect(base + largestRiseOhm(i * i, electricalS)).toBeCloseTo(20, 8)
  })
})

describe('currents', () => {
  it('are balanced at every node and settle to exactly 0 or ±1 on bridges', () => {
    const { graph, conductanceS, dense, isBridge, pairs } = prepared(42, 60)
    for (const [a, b] of pairs) {
      const out = new Float64Array(graph.from.length)
      settleBridgeCurrents(isBridge, edgeCurrents(graph, conductanceS, dense.potentials(a, b), out))
      const net = new Float64Array(graph.nodeCount)
      for (let e = 0; e < out.length; e++) {
        net[graph.from[e]] += out[e]
        net[graph.to[e]] -= out[e]
        if (isBridge[e] === 1) expect([-1, 0, 1]).toContain(out[e])
      }
      for (let v = 0; v < net.length; v++) {
        expect(net[v]).toBeCloseTo(v === a ? 1 : v === b ? -1 : 0, 10)
      }
    }
  })

  it('of a bridge that are neither 0 nor ±1 are a bug', () => {
    expect(bridgeCurrent(-1 + 1e-12)).toBe(-1)
    expect(bridgeCurrent(-1e-15)).toBe(0)
    expect(() => bridgeCurrent(0.4)).toThrow('a bridge carries')
    expect(() => bridgeCurrent(2)).toThrow('a bridge carries')
    expect(() => bridgeCurrent(NaN)).toThrow('a bridge carries')
  })
})

describe('sweepJoints', () => {
  it('gives the same rows from currents and from potentials, whatever the size of the blocks', () => {
    const { graph, conductanceS, dense, isBridge, pairs } = prepared(77, 50)
    const jointCount = graph.from.length
    const potentials = pairs.map(([a, b]) => dense.potentials(a, b))
    const currents = potentials.map((x) =>
      settleBridgeCurrents(isBridge, edgeCurrents(graph, conductanceS, x, new Float64Array(jointCount))),
    )
    for (const fill of [
      rowsFromCurrents(currents),
      rowsFromPotentials(graph, conductanceS, isBridge, potentials),
    ]) {
      for (const blockSize of [1, 7, jointCount, 8192]) {
        let next = 0
        for (const { first, count, readingCount, squared } of sweepJoints(
          fill,
          jointCount,
          pairs.length,
          blockSize,
        )) {
          expect(first).toBe(next)
          expect(count).toBeLessThanOrEqual(blockSize)
          for (let k = 0; k < count; k++) {
            for (let p = 0; p < readingCount; p++) {
              expect(squared[k * readingCount + p]).toBe(currents[p][first + k] ** 2)
            }
          }
          next = first + count
        }
        expect(next).toBe(jointCount)
      }
    }
  })

  it('has no block for a network without joints', () => {
    expect([...sweepJoints(rowsFromCurrents([]), 0, 0)]).toEqual([])
  })
})

describe('fosterDefect', () => {
  it('is nothing but rounding on networks of several islands and shows one wrong leverage', () => {
    for (let seed = 0; seed < 20; seed++) {
      const { graph, conductanceS, dense, endsOhm } = prepared(800 + seed, 60)
      const leverage = endsOhm.map((ohm, e) => conductanceS[e] * ohm)
      expect(fosterDefect(leverage, 60, dense.islandCount)).toBeLessThan(1e-11)
      leverage[seed % leverage.length] += 1e-3
      expect(fosterDefect(leverage, 60, dense.islandCount)).toBeCloseTo(1e-3 / (60 - dense.islandCount), 10)
      expect(fosterDefect(leverage, graph.nodeCount + 1, dense.islandCount)).toBeGreaterThan(1e-3)
    }
  })

  it('does not lose a million small leverages to rounding', () => {
    const leverage = new Float64Array(1_000_000).fill(0.1)
    expect(fosterDefect(leverage, 100_001, 1)).toBeLessThan(1e-15)
    expect(fosterDefect(new Float64Array(0), 5, 5)).toBe(0)
  })
})
