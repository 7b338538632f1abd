import { describe, expect, it } from 'vitest'
import type { Graph } from '../../src/network/graph.ts'
import { graphOf } from '../network/patchedNetworks.ts'
import { lattice, path } from './knownGraphs.ts'
import { solve } from './solvedNetwork.ts'

// See resistorNetworks.test.ts: positive terms only, at most a few thousand nodes.
const EXACT = 1e-12

describe('square grids of unit resistors', () => {
  // OEIS A357113/A357114 (numerators and denominators of the resistance between opposite corners); nodes × nodes
  const corners: [number, number, number, number][] = [
    [2, 2, 1, 1],
    [2, 3, 7, 5],
    [3, 3, 3, 2],
    [2, 4, 15, 8],
    [3, 4, 121, 69],
    [4, 4, 13, 7],
    [2, 5, 45, 19],
    [3, 5, 430, 209],
    [4, 5, 2089, 1023],
    [5, 5, 47, 22],
    [2, 6, 43, 15],
    [3, 6, 1047, 440],
    [4, 6, 37873, 16744],
    [5, 6, 2749, 1205],
    [6, 6, 1171, 495],
  ]
  it.each(corners)('%i × %i from corner to corner reads %i/%i', (width, height, numerator, denominator) => {
    for (const [w, h] of [
      [width, height],
      [height, width],
    ]) {
      const { resistance } = solve(lattice(w, h))
      const [ends, others] = [resistance(0, w * h - 1), resistance(w - 1, w * (h - 1))]
      expect(Math.abs(ends / (numerator / denominator) - 1)).toBeLessThan(EXACT)
      expect(Math.abs(others / (numerator / denominator) - 1)).toBeLessThan(EXACT)
    }
  })

  it('3 × 3 from a corner to every other node', () => {
    // computed exactly
    const { resistance } = solve(lattice(3, 3))
    const expected = [0, 17 / 24, 5 / 4, 17 / 24, 7 / 8, 29 / 24, 5 / 4, 29 / 24, 3 / 2]
    for (let v = 0; v < 9; v++) expect(Math.abs(resistance(0, v) - expected[v])).toBeLessThan(EXACT)
  })

  it('corner to corner follows the expansion of Essam and Wu', () => {
    // Essam & Wu, J. Phys. A 42, 025205 (2009), arXiv:0809.4867; the next term is of order N⁻⁶, and the four
    // constants have six digits: at N = 10 the expansion is 1.9e-6 low, from N = 20 on less than 1e-6
    const expansion = (n: number) =>
      (4 / Math.PI) * Math.log(n) + 0.077318 + 0.26607 / n ** 2 - 0.534779 / n ** 4
    for (const [n, exact, within] of [
      [10, 3.0116696, 3e-6],
      [20, 3.8922655, 1.5e-6],
      [50, 5.0583676, 1.5e-6],
    ]) {
      const found = solve(lattice(n, n)).resistance(0, n * n - 1)
      expect(Math.abs(found - expansion(n))).toBeLessThan(within)
      // computed in double precision, seven decimals
      expect(Math.abs(found - exact)).toBeLessThan(6e-8)
    }
  })

  it('the 5 × 4 example of Wu 2004 from (0, 0) to (3, 3) reads 3/4 + 3/5 + 9877231/27600540', () => {
    // Wu, J. Phys. A 37, 6653 (2004): value from memory; the single fraction computed exactly
    const found = solve(lattice(5, 4)).resistance(0, 3 + 5 * 3)
    expect(Math.abs(found / (3 / 4 + 3 / 5 + 9877231 / 27600540) - 1)).toBeLessThan(EXACT)
    expect(Math.abs(found / (2356898 / 1380027) - 1)).toBeLessThan(EXACT)
  })

  it('and with its ends joined: cylinders and torus', () => {
    // computed exactly (cylinder round 4, torus) and to seven decimals (cylinder round 5)
    const read = (wrapX: boolean, wrapY: boolean) =>
      solve(lattice(5, 4, wrapX, wrapY)).resistance(0, 3 + 5 * 3)
    expect(Math.abs(read(false, true) / (1169807 / 994004) - 1)).toBeLessThan(EXACT)
    expect(Math.abs(read(true, true) / (10609 / 15580) - 1)).toBeLessThan(EXACT)
    expect(Math.abs(read(true, false) - 1.1842671)).toBeLessThan(6e-8)
  })
})

describe('large tori stand for infinite lattices', () => {
  // On a torus of n nodes the ampere returns through a background of 1/n at every node, which lowers the reading by
  // (x² + y²)/(2n). What is left is a harmonic of fourth order: measured at n = 32² and 64², it stays below
  // 0.4 (x² + y²)²/n² and falls sixteenfold from one to the other, as it must.
  const N = 64

  it('the square lattice', () => {
    // Atkinson & van Steenwijk, Am. J. Phys. 67, 486 (1999); Cserti, Am. J. Phys. 68, 896 (2000)
    const { resistance } = solve(lattice(N, N, true, true))
    const { PI } = Math
    const infinite: [number, number, number][] = [
      [1, 0, 1 / 2],
      [1, 1, 2 / PI],
      [2, 0, 2 - 4 / PI],
      [2, 1, 4 / PI - 1 / 2],
      [2, 2, 8 / (3 * PI)],
      [3, 0, 17 / 2 - 24 / PI],
      [3, 1, 46 / (3 * PI) - 4],
      [3, 2, 1 / 2 + 4 / (3 * PI)],
      [3, 3, 46 / (15 * PI)],
      [4, 0, 40 - 368 / (3 * PI)],
      [4, 1, 80 / PI - 49 / 2],
      [4, 4, 352 / (105 * PI)],
    ]
    for (const [x, y, expected] of infinite) {
      const found = resistance(0, x + N * y) + (x * x + y * y) / (2 * N * N)
      expect(Math.abs(found - expected)).toBeLessThan((0.4 * (x * x + y * y) ** 2) / N ** 4)
    }
  })

  it('triangular 1/3, honeycomb 2/3, cubic 1/3 between neighbours (values from memory)', () => {
    // by Foster's sum exactly (n − 1)/edges on the torus
    const n = 12
    const at = (x: number, y: number) => ((x + n) % n) + n * ((y + n) % n)
    const nodes = Array.from({ length: n * n }, (_, v) => [v % n, Math.floor(v / n)])
    const triangular = graphOf(
      n * n,
      nodes.flatMap(([x, y]) =>
        [at(x + 1, y), at(x, y + 1), at(x + 1, y - 1)].map((w): [number, number] => [at(x, y), w]),
      ),
    )
    const honeycomb = graphOf(
      2 * n * n,
      nodes.flatMap(([x, y]) =>
        [at(x, y), at(x - 1, y), at(x, y - 1)].map((w): [number, number] => [at(x, y), n * n + w]),
      ),
    )
    const cubic = graphOf(
      n * n * n,
      nodes.flatMap(([x, y]) =>
        Array.from({ length: n }, (_, z) => z).flatMap((z) =>
          [at(x + 1, y) + n * n * z, at(x, y + 1) + n * n * z, at(x, y) + n * n * ((z + 1) % n)].map(
            (w): [number, number] => [at(x, y) + n * n * z, w],
          ),
        ),
      ),
    )
    const cases: [Graph, number][] = [
      [triangular, 1 / 3],
      [honeycomb, 2 / 3],
      [cubic, 1 / 3],
    ]
    for (const [graph, infinite] of cases) {
      const { endsOhm } = solve(graph)
      for (const ohm of endsOhm) {
        expect(Math.abs(ohm / (infinite * (1 - 1 / graph.nodeCount)) - 1)).toBeLessThan(EXACT)
      }
    }
  })
})

describe('ladders', () => {
  /** n spans of `spanOhm` in a row, a shunt of `shuntOhm` to the common node n + 1 behind each; driven at node 0. */
  const ladder = (n: number, spanOhm: number, shuntOhm: number) => {
    const spans = path(n + 1)
    const graph = graphOf(n + 2, [
      ...Array.from(spans.from, (u, e): [number, number] => [u, spans.to[e]]),
      ...Array.from({ length: n }, (_, k): [number, number] => [k + 1, n + 1]),
    ])
    const g = Float64Array.from(graph.from, (_, e) => (e < n ? 1 / spanOhm : 1 / shuntOhm))
    return solve(graph, g).resistance(0, n + 1)
  }

  it('of unit resistors reads 2, 5/3, 13/8, 34/21, 89/55 and tends to the golden ratio', () => {
    // computed exactly: ratios of Fibonacci numbers
    const fractions = [2, 5 / 3, 13 / 8, 34 / 21, 89 / 55]
    fractions.forEach((expected, k) => {
      expect(Math.abs(ladder(k + 1, 1, 1) / expected - 1)).toBeLessThan(EXACT)
    })
    expect(Math.abs(ladder(60, 1, 1) - (1 + Math.sqrt(5)) / 2)).toBeLessThan(EXACT)
  })

  it('of spans z and earthed supports R tends to z/2 + √(z²/4 + z R)', () => {
    // Endrenyi, "Analysis of transmission tower potentials during ground faults", IEEE Trans. PAS-86 (1967): value
    // from memory. A span of 0.5 Ω on supports of 10 Ω decays by some 20 % each, so that 300 are endless.
    for (const [z, r] of [
      [0.5, 10],
      [0.1, 25],
      [2, 1],
    ]) {
      expect(Math.abs(ladder(300, z, r) / (z / 2 + Math.sqrt((z * z) / 4 + z * r)) - 1)).toBeLessThan(EXACT)
    }
  })
})
