import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { randomStream } from '../../../src/base/random.ts'
import { betaBinomialAtMost } from '../../../src/plan/sampling/betaBinomial.ts'
import { binomialAtMost } from '../../../src/plan/sampling/binomial.ts'
import { leastShare, mostShare } from '../../../src/plan/sampling/clopperPearson.ts'
import { drawByLot } from '../../../src/plan/sampling/drawByLot.ts'
import { hypergeometricAtMost } from '../../../src/plan/sampling/hypergeometric.ts'

function choose(n: number, k: number): bigint {
  if (k < 0 || k > n) return 0n
  let ways = 1n
  for (let i = 1; i <= k; i++) ways = (ways * BigInt(n - k + i)) / BigInt(i)
  return ways
}

/** a / b of whole numbers too long for a float each. */
const ratio = (a: bigint, b: bigint) => Number((a * 10n ** 40n) / b) / 1e40

const counts = fc
  .record({ items: fc.integer({ min: 1, max: 400 }), bad: fc.nat(400), drawn: fc.nat(400), most: fc.nat(60) })
  .map(({ items, bad, drawn, most }) => ({ items, bad: bad % (items + 1), drawn: drawn % (items + 1), most }))

describe('hypergeometric', () => {
  it('is what counting in whole numbers gives', () => {
    fc.assert(
      fc.property(counts, ({ most, ...from }) => {
        const { items, bad, drawn } = from
        let ways = 0n
        for (let x = 0; x <= most; x++) ways += choose(bad, x) * choose(items - bad, drawn - x)
        const exact = ratio(ways, choose(items, drawn))
        const found = hypergeometricAtMost(most, from)
        expect(Math.abs(found - exact)).toBeLessThan(1e-11 * Math.max(exact, 1e-25))
      }),
      { seed: 8 },
    )
  })

  it('comes to the binomial in large lots', () => {
    const drawn = { items: 1e9, bad: 3e7, drawn: 80 }
    expect(hypergeometricAtMost(2, drawn)).toBeCloseTo(binomialAtMost(2, 80, 0.03), 7)
  })
})

describe('binomial and its limits', () => {
  it('is what counting in whole numbers gives, for shares that are whole per cents', () => {
    const exact = (most: number, trials: number, percent: number) => {
      let ways = 0n
      for (let x = 0; x <= most; x++) {
        ways += choose(trials, x) * BigInt(percent) ** BigInt(x) * BigInt(100 - percent) ** BigInt(trials - x)
      }
      return ratio(ways, 100n ** BigInt(trials))
    }
    for (const [most, trials, percent] of [
      [0, 59, 5],
      [3, 52, 7],
      [20, 300, 9],
      [150, 300, 50],
    ]) {
      expect(binomialAtMost(most, trials, percent / 100) / exact(most, trials, percent)).toBeCloseTo(1, 11)
    }
    expect([binomialAtMost(3, 3, 0.5), binomialAtMost(-1, 3, 0.5), binomialAtMost(1, 3, 1)]).toEqual([
      1, 0, 0,
    ])
  })

  it('a limit is where the tail has the chance that is left', () => {
    for (const [failed, tested] of [
      [0, 59],
      [3, 80],
      [40, 41],
    ]) {
      expect(binomialAtMost(failed, tested, mostShare(failed, tested, 0.95))).toBeCloseTo(0.05, 12)
    }
    expect(1 - binomialAtMost(2, 80, leastShare(3, 80, 0.95))).toBeCloseTo(0.05, 12)
    expect([mostShare(7, 7, 0.95), leastShare(0, 7, 0.95)]).toEqual([1, 0])
  })
})

describe('tables whose items go bad together', () => {
  it('comes to the binomial as the correlation goes', () => {
    const found = betaBinomialAtMost(2, [{ tables: 20, each: 4 }], 0.03, 1e-9)
    expect(found).toBeCloseTo(binomialAtMost(2, 80, 0.03), 7)
  })

  it('with two items a table has the correlation that it is given', () => {
    const [share, correlation] = [0.2, 0.35]
    const both = 1 - betaBinomialAtMost(1, [{ tables: 1, each: 2 }], share, correlation)
    expect((both - share ** 2) / (share * (1 - share))).toBeCloseTo(correlation, 12)
  })

  it('adds up tables of several sizes: 0 to 3 bad by hand for one table of one and one of two', () => {
    const [p, rho] = [0.1, 0.5]
    const two = [0, 1].map((x) => betaBinomialAtMost(x, [{ tables: 1, each: 2 }], p, rho))
    const sizes = [
      { tables: 1, each: 1 },
      { tables: 1, each: 2 },
    ]
    expect(betaBinomialAtMost(0, sizes, p, rho)).toBeCloseTo((1 - p) * two[0], 12)
    expect(betaBinomialAtMost(1, sizes, p, rho)).toBeCloseTo((1 - p) * two[1] + p * two[0], 12)
    expect(betaBinomialAtMost(3, sizes, p, rho)).toBeCloseTo(1, 12)
  })
})

describe('drawing by lot', () => {
  it('takes each number once, and the same ones for the same seed', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 200 }), fc.nat(200), fc.nat(1e6), (count, more, seed) => {
        const drawn = drawByLot(count, more % (count + 1), randomStream(seed))
        expect(new Set(drawn).size).toBe(more % (count + 1))
        expect(drawn.every((k, at) => k >= 0 && k < count && (at === 0 || k > drawn[at - 1]))).toBe(true)
        expect(drawByLot(count, more % (count + 1), randomStream(seed))).toEqual(drawn)
      }),
      { seed: 8 },
    )
  })

  it('takes every set as often as any other', () => {
    const often = new Map<string, number>()
    const random = randomStream(8)
    const times = 6000
    for (let k = 0; k < times; k++) {
      const key = drawByLot(5, 2, random).join(' ')
      often.set(key, (often.get(key) ?? 0) + 1)
    }
    // ten sets; chi-square with 9 degrees of freedom exceeds 27.9 once in a thousand times
    const expected = times / 10
    const chiSquare = [...often.values()].reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0)
    expect(often.size).toBe(10)
    expect(chiSquare).toBeLessThan(27.9)
  })
})
