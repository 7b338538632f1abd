import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { pairResistance } from '../../src/network/pairResistance.ts'
import { denseInverse, denseResistance } from './denseReference.ts'
import { exactResistance } from './exactResistance.ts'
import {
  arrayRows,
  edgesOf,
  ladder,
  networkOf,
  randomConnected,
  randomTree,
  renamed,
  shuffled,
  sideBySide,
  type Network,
} from './randomNetworks.ts'
import { relativeError, solved } from './solved.ts'

const seeds = fc.integer({ min: 0, max: 2 ** 31 - 1 })

function cycle(n: number): Network {
  return networkOf(
    n,
    Array.from({ length: n }, (_, k) => [k, (k + 1) % n, 1] as const),
    n - 1,
  )
}

describe('closed forms', () => {
  it('series: ohms add up; parallel: siemens add up', () => {
    const series = solved(
      networkOf(4, [
        [0, 1, 2],
        [1, 2, 4],
        [3, 2, 8],
      ]),
    ).factor
    expect(pairResistance(series, 0, 3)).toBeCloseTo(0.875, 14)
    const parallel = solved(
      networkOf(2, [
        [0, 1, 1],
        [1, 0, 3],
        [0, 1, 4],
      ]),
    ).factor
    expect(pairResistance(parallel, 0, 1)).toBe(0.125)
  })

  it('cycle: k (n − k) / n; complete graph: 2 / n', () => {
    const ring = solved(cycle(17)).factor
    for (let k = 0; k < 17; k++)
      expect(pairResistance(ring, 3, (3 + k) % 17)).toBeCloseTo((k * (17 - k)) / 17, 13)
    for (const n of [2, 3, 12, 40]) {
      const pairs = Array.from({ length: n }, (_, u) =>
        Array.from({ length: u }, (_, v) => [u, v, 1] as const),
      )
      const complete = solved(networkOf(n, pairs.flat())).factor
      expect(relativeError(pairResistance(complete, 0, n - 1), 2 / n)).toBeLessThan(1e-14)
    }
  })

  it('ladder: the continued fraction of its rungs', () => {
    const [railS, rungS] = [50, 0.1]
    let seen = Infinity
    for (let k = 0; k < 40; k++) seen = 1 / (rungS + 1 / (seen + 2 / railS))
    const { factor } = solved(ladder(40, railS, rungS))
    expect(relativeError(pairResistance(factor, 0, 1), seen)).toBeLessThan(1e-13)
  })

  it('joints of 1e-6 and 1e6 ohm in series and parallel keep their relative accuracy', () => {
    const strong = networkOf(
      5,
      [
        [0, 1, 1e6],
        [1, 2, 1e-6],
        [1, 3, 1e6],
        [3, 2, 1e-6],
        [2, 4, 1e6],
      ],
      4,
    )
    const { factor } = solved(strong)
    expect(relativeError(pairResistance(factor, 0, 1), 1e-6)).toBeLessThan(1e-14)
    expect(relativeError(pairResistance(factor, 1, 3), 1 / (1e6 + 1 / (1e6 + 1e6)))).toBeLessThan(1e-14)
    expect(relativeError(pairResistance(factor, 1, 2), 1 / (1e-6 + 1 / (1e-6 + 1e6)))).toBeLessThan(1e-14)
  })
})

describe('pairResistance', () => {
  it('agrees with a dense reference', () => {
    const check = fc.property(seeds, (seed) => {
      const random = randomStream(seed)
      const n = 2 + random.integer(50)
      const network = randomConnected(random, n, random.integer(80))
      const inverse = denseInverse(network.graph, network.conductanceS, network.reference)
      const { factor } = solved(network)
      for (let k = 0; k < 20; k++) {
        const [a, b] = [random.integer(n), random.integer(n)]
        if (a !== b) {
          expect(relativeError(pairResistance(factor, a, b), denseResistance(inverse, a, b))).toBeLessThan(
            1e-11,
          )
        }
      }
    })
    fc.assert(check, { seed: 21, numRuns: 60 })
  })

  it('agrees with whole-number arithmetic when conductances span 1e-9 to 1e9 siemens', () => {
    let worst = 0
    for (let seed = 0; seed < 40; seed++) {
      const random = randomStream(seed)
      const network = randomConnected(random, 9, random.integer(12), 9)
      const { factor } = solved(network)
      for (let a = 0; a < 9; a += 2) {
        for (let b = 1; b < 9; b += 3) {
          if (a === b) continue
          const exact = exactResistance(network.graph, network.conductanceS, a, b)
          worst = Math.max(worst, relativeError(pairResistance(factor, a, b), exact))
        }
      }
    }
    expect(worst).toBeLessThan(1e-11)
  })

  it('is symmetric and a metric, 0 from a node to itself', () => {
    const check = fc.property(seeds, (seed) => {
      const random = randomStream(seed)
      const { factor } = solved(randomConnected(random, 30, 20, 4))
      for (let k = 0; k < 20; k++) {
        const [a, b, c] = [random.integer(30), random.integer(30), random.integer(30)]
        const [ab, bc, ac] = [
          [a, b],
          [b, c],
          [a, c],
        ].map(([u, v]) => pairResistance(factor, u, v))
        expect(pairResistance(factor, b, a)).toBe(ab)
        expect(pairResistance(factor, a, a)).toBe(0)
        expect(ac).toBeLessThanOrEqual((ab + bc) * (1 + 1e-10))
        if (a !== b) expect(ab).toBeGreaterThan(0)
      }
    })
    fc.assert(check, { seed: 22, numRuns: 40 })
  })

  it('does not care how nodes are named or which node is the reference', () => {
    const random = randomStream(23)
    const network = arrayRows(random, 4, 3, 6)
    const n = network.graph.nodeCount
    const name = shuffled(random, n)
    const plain = solved(network).factor
    const other = solved(renamed({ ...network, reference: Int32Array.of(n - 1) }, name)).factor
    for (let k = 0; k < 200; k++) {
      const [a, b] = [random.integer(n), random.integer(n)]
      expect(
        relativeError(pairResistance(other, name[a], name[b]), pairResistance(plain, a, b)),
      ).toBeLessThan(1e-12)
    }
  })

  it('scales inversely with all conductances', () => {
    const network = randomConnected(randomStream(24), 60, 60)
    const plain = solved(network).factor
    for (const factor of [1e-9, 1e-3, 1e9]) {
      const scaled = solved({ ...network, conductanceS: network.conductanceS.map((g) => g * factor) }).factor
      for (let b = 1; b < 60; b++) {
        expect(
          relativeError(pairResistance(scaled, 0, b) * factor, pairResistance(plain, 0, b)),
        ).toBeLessThan(1e-12)
      }
    }
  })

  it('never falls when an edge gets weaker', () => {
    const network = randomConnected(randomStream(25), 40, 60)
    const plain = solved(network).factor
    for (let e = 0; e < 100; e += 9) {
      const weaker = solved({
        ...network,
        conductanceS: network.conductanceS.map((g, k) => (k === e ? g / 5 : g)),
      })
      for (let b = 1; b < 40; b++) {
        const before = pairResistance(plain, 0, b)
        expect(pairResistance(weaker.factor, 0, b)).toBeGreaterThanOrEqual(before * (1 - 1e-12))
      }
    }
  })

  it('is infinite between islands and right inside each', () => {
    const random = randomStream(26)
    const islands = [randomTree(random, 20), networkOf(1, []), cycle(8), randomConnected(random, 30, 30)]
    const network = sideBySide(islands)
    const { factor } = solved(network)
    expect(pairResistance(factor, 0, 20)).toBe(Infinity)
    expect(pairResistance(factor, 25, 40)).toBe(Infinity)
    expect(pairResistance(factor, 20, 20)).toBe(0)
    expect(pairResistance(factor, 21, 25)).toBeCloseTo(2, 13)
    const alone = solved(islands[3]).factor
    expect(relativeError(pairResistance(factor, 29 + 2, 29 + 17), pairResistance(alone, 2, 17))).toBeLessThan(
      1e-12,
    )
  })

  it('finds its scratch clean after every kind of call', () => {
    const network = sideBySide([randomConnected(randomStream(27), 50, 30), cycle(5)])
    const { factor } = solved(network)
    for (const [a, b] of [
      [0, 49],
      [3, 3],
      [2, 52],
      [50, 54],
    ])
      pairResistance(factor, a, b)
    expect(factor.scratch.every((x) => x === 0)).toBe(true)
  })

  it('takes a path of 100,000 nodes and a star of 100,000 leaves', () => {
    const n = 100_000
    const path = solved(
      networkOf(
        n,
        Array.from({ length: n - 1 }, (_, k) => [k, k + 1, 1] as const),
        50_000,
      ),
    ).factor
    expect(relativeError(pairResistance(path, 0, n - 1), n - 1)).toBeLessThan(1e-12)
    const leaves = Array.from({ length: n }, (_, k) => [0, k + 1, k + 1] as const)
    const star = networkOf(n + 1, leaves, 7)
    expect(relativeError(pairResistance(solved(star).factor, 1, n), 1 + 1 / n)).toBeLessThan(1e-14)
    expect(edgesOf(star)).toHaveLength(n)
  })
})
