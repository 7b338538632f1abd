import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { adjacencyOf } from '../../src/network/graph.ts'
import { findIslands } from '../../src/network/islands.ts'
import { edgeResistance, leverageOf } from '../../src/network/leverage.ts'
import { pairResistance } from '../../src/network/pairResistance.ts'
import { createPathBeside, pathBesideOhm, sharpenSlack } from '../../src/network/pathBeside.ts'
import { exactResistance } from './exactResistance.ts'
import {
  arrayRows,
  grid,
  networkOf,
  randomConnected,
  randomTree,
  sideBySide,
  type Network,
} from './randomNetworks.ts'
import { runToEnd } from './runToEnd.ts'
import { relativeError, solved } from './solved.ts'

const seeds = fc.integer({ min: 0, max: 2 ** 31 - 1 })

/** Bridges by taking each edge out and counting islands. */
function bridgesOf({ graph }: Network): Uint8Array {
  const whole = findIslands(graph, adjacencyOf(graph)).count
  return Uint8Array.from(graph.from, (_, e) => {
    const isIn = new Uint8Array(graph.from.length).fill(1)
    isIn[e] = 0
    return findIslands(graph, adjacencyOf(graph), isIn).count > whole ? 1 : 0
  })
}

function leveragesOf(network: Network) {
  const solver = solved(network)
  const endsOhm = runToEnd(edgeResistance(solver.factor, network.graph))
  const isBridge = bridgesOf(network)
  const rough = leverageOf(endsOhm, network.conductanceS, isBridge)
  return { solver, endsOhm, isBridge, ...runToEnd(sharpenSlack(solver, rough, isBridge)) }
}

describe('edgeResistance', () => {
  it('agrees with the resistance of each pair of ends', () => {
    const networks = [
      arrayRows(randomStream(1), 5, 4, 7),
      grid(12, 17),
      sideBySide([randomConnected(randomStream(2), 60, 90), randomTree(randomStream(3), 30)]),
    ]
    for (const network of networks) {
      const { factor } = solved(network)
      const { from, to } = network.graph
      runToEnd(edgeResistance(factor, network.graph)).forEach((ohm, e) => {
        expect(relativeError(ohm, pairResistance(factor, from[e], to[e]))).toBeLessThan(1e-12)
      })
    }
  })

  it('agrees with whole-number arithmetic over eighteen decades, far from the reference too', () => {
    for (let seed = 0; seed < 40; seed++) {
      const random = randomStream(seed)
      const network = randomConnected(random, 8, 1 + random.integer(9), 9)
      const { graph, conductanceS } = network
      runToEnd(edgeResistance(solved(network).factor, graph)).forEach((ohm, e) => {
        const exact = exactResistance(graph, conductanceS, graph.from[e], graph.to[e])
        expect(relativeError(ohm, exact)).toBeLessThan(1e-13)
      })
    }
  })

  it('does not lose digits behind a very weak edge', () => {
    // the triangle hangs on the reference by 1e9 ohm and has joints of 1 milliohm
    const network = networkOf(4, [
      [0, 1, 1e-9],
      [1, 2, 1e3],
      [2, 3, 1e3],
      [1, 3, 1e3],
    ])
    const ohm = runToEnd(edgeResistance(solved(network).factor, network.graph))
    for (const e of [1, 2, 3]) expect(relativeError(ohm[e], 2e-3 / 3)).toBeLessThan(1e-15)
    expect(relativeError(ohm[0], 1e9)).toBeLessThan(1e-15)
  })

  it('gives nothing for a graph without edges', () => {
    for (const n of [0, 1, 3]) {
      const network = {
        ...networkOf(n, []),
        islandOf: Int32Array.from({ length: n }, (_, v) => v),
        reference: Int32Array.from({ length: n }, (_, v) => v),
      }
      expect(runToEnd(edgeResistance(solved(network).factor, network.graph))).toHaveLength(0)
    }
  })
})

describe('leverageOf', () => {
  it('sums to nodes less islands (Foster), lies in (0, 1], and is 1 for bridges alone', () => {
    const check = fc.property(seeds, (seed) => {
      const random = randomStream(seed)
      const network = sideBySide([
        randomConnected(random, 2 + random.integer(30), random.integer(30), 3),
        networkOf(1, []),
        randomConnected(random, 2 + random.integer(20), random.integer(4), 9),
      ])
      const { leverage, slack, isBridge } = leveragesOf(network)
      const sum = leverage.reduce((a, b) => a + b, 0)
      expect(relativeError(sum, network.graph.nodeCount - 3)).toBeLessThan(1e-13)
      leverage.forEach((h, e) => {
        expect(h).toBeGreaterThan(0)
        expect(h).toBeLessThanOrEqual(1)
        expect(slack[e] === 0).toBe(isBridge[e] === 1)
        if (isBridge[e] === 1) expect(h).toBe(1)
      })
    })
    fc.assert(check, { seed: 31, numRuns: 60 })
  })

  it('scales: conductances times anything leave leverages as they are', () => {
    const network = randomConnected(randomStream(32), 30, 40, 2)
    const { leverage } = leveragesOf(network)
    for (const factor of [1e-9, 1e9]) {
      const scaled = leveragesOf({ ...network, conductanceS: network.conductanceS.map((g) => g * factor) })
      scaled.leverage.forEach((h, e) => expect(relativeError(h, leverage[e])).toBeLessThan(1e-12))
    }
  })

  it('keeps the leverage of an edge of 1e-20 siemens beside one of 1 siemens', () => {
    const { leverage, slack } = leveragesOf(
      networkOf(2, [
        [0, 1, 1],
        [0, 1, 1e-20],
      ]),
    )
    expect(relativeError(leverage[1], 1e-20)).toBeLessThan(1e-15)
    expect(relativeError(slack[0], 1e-20)).toBeLessThan(1e-15)
    expect([leverage[0], slack[1]]).toEqual([1, 1])
  })

  it('keeps an edge that rounding takes for a bridge apart from bridges', () => {
    const { leverage, slack } = leverageOf(Float64Array.of(1, 1), Float64Array.of(1, 1), Uint8Array.of(0, 1))
    expect(slack[0]).toBeGreaterThan(0)
    expect(leverage[0]).toBeLessThan(1)
    expect([leverage[1], slack[1]]).toEqual([1, 0])
  })
})

describe('pathBesideOhm and sharpenSlack', () => {
  it('give the slack of near-bridges to full relative accuracy', () => {
    let nearBridges = 0
    for (let seed = 0; seed < 40; seed++) {
      const random = randomStream(seed)
      const network = randomConnected(random, 8, 1 + random.integer(6), 9)
      const { graph, conductanceS } = network
      const { slack, isBridge } = leveragesOf(network)
      slack.forEach((s, e) => {
        if (isBridge[e] === 1) return
        const beside = exactResistance(graph, conductanceS, graph.from[e], graph.to[e], e)
        const exact = 1 / (1 + conductanceS[e] * beside)
        if (exact < 1e-7) nearBridges++
        expect(relativeError(s, exact)).toBeLessThan(exact < 1e-7 ? 1e-11 : 1e-7)
      })
    }
    expect(nearBridges).toBeGreaterThan(30)
  })

  it('is what the pair reads once the edge is gone, and leaves the factor as it was', () => {
    const network = arrayRows(randomStream(33), 4, 3, 5)
    const { graph, conductanceS } = network
    const solver = solved(network)
    const [share, pivotS] = [solver.factor.share.slice(), solver.factor.pivotS.slice()]
    const beside = createPathBeside(solver.factor, graph, solver.adjacency, conductanceS)
    const isBridge = bridgesOf(network)
    for (let e = 0; e < graph.from.length; e += 5) {
      if (isBridge[e] === 1) {
        expect(() => pathBesideOhm(beside, e)).toThrow('bridge')
        continue
      }
      const left = {
        ...network,
        graph: {
          ...graph,
          from: graph.from.filter((_, k) => k !== e),
          to: graph.to.filter((_, k) => k !== e),
        },
        conductanceS: conductanceS.filter((_, k) => k !== e),
      }
      const expected = pairResistance(solved(left).factor, graph.from[e], graph.to[e])
      expect(relativeError(pathBesideOhm(beside, e), expected)).toBeLessThan(1e-12)
    }
    expect(solver.factor.share).toEqual(share)
    expect(solver.factor.pivotS).toEqual(pivotS)
  })
})
