import { describe, expect, test } from 'vitest'
import { binomialAtMost } from '../../src/plan/sampling/binomial.ts'
import { leastShare, mostShare } from '../../src/plan/sampling/clopperPearson.ts'
import { designEffect } from '../../src/plan/sampling/clusterSample.ts'
import { hypergeometricAtMost } from '../../src/plan/sampling/hypergeometric.ts'
import { smallestSample } from '../../src/plan/sampling/sampleSize.ts'

/** As good as endless: a lot so large that drawing without putting back makes no odds. */
const endless = 1e9

describe('zero failures, common practice of reliability demonstration: n = ln(1 − confidence) / ln(1 − share), rounded up', () => {
  test.each([
    [59, 0.05],
    [299, 0.01],
    [2995, 0.001],
  ])(
    '%i without a failure give 95 %% confidence of less than %f bad, one fewer does not',
    (n, mostBadShare) => {
      expect(Math.ceil(Math.log(0.05) / Math.log(1 - mostBadShare))).toBe(n)
      expect(smallestSample(endless, { mostBadShare, confidence: 0.95, failuresAllowed: 0 })).toBe(n)
      expect(binomialAtMost(0, n, mostBadShare)).toBeLessThanOrEqual(0.05)
      expect(binomialAtMost(0, n - 1, mostBadShare)).toBeGreaterThan(0.05)
      expect(mostShare(0, n, 0.95)).toBeLessThanOrEqual(mostBadShare)
    },
  )
})

/*
 * ANSI/ASQ Z1.4-2003 (ISO 2859-1:1999 has the same plans), Table X-J-1, tabulated values of operating characteristic
 * curves for single sampling, code letter J, 80 items: per cent bad for a chance of acceptance. From memory; that three
 * digits of 36 values come out is what speaks for it.
 */
const codeLetterJ: readonly (readonly [number, readonly number[]])[] = [
  [99, [0.0126, 0.187, 0.55, 1.05]],
  [95, [0.0641, 0.446, 1.03, 1.73]],
  [90, [0.132, 0.667, 1.39, 2.2]],
  [75, [0.359, 1.2, 2.16, 3.18]],
  [50, [0.863, 2.09, 3.33, 4.57]],
  [25, [1.72, 3.33, 4.84, 6.31]],
  [10, [2.84, 4.78, 6.52, 8.16]],
  [5, [3.68, 5.8, 7.66, 9.39]],
  [1, [5.59, 8, 10.1, 12]],
]

describe('published (n, c) plans', () => {
  test('code letter J of ANSI/ASQ Z1.4: 80 items, 0 to 3 failures allowed', () => {
    for (const [accepted, percents] of codeLetterJ) {
      percents.forEach((percent, failures) => {
        const share = mostShare(failures, 80, 1 - accepted / 100)
        expect(Math.abs(100 * share - percent) / percent, `${accepted} %, c = ${failures}`).toBeLessThan(
          0.008,
        )
      })
    }
  })

  test('52 items, 3 failures allowed, lots of 10,000: NIST/SEMATECH e-Handbook 6.2.3.2, from memory', () => {
    const printed = [0.998, 0.98, 0.93, 0.845, 0.739, 0.62, 0.502, 0.394, 0.3, 0.223, 0.162, 0.115]
    printed.forEach((accepted, k) => {
      expect(Math.abs(binomialAtMost(3, 52, (k + 1) / 100) - accepted)).toBeLessThan(1.1e-3)
      // the handbook counts the lot as endless; drawn without putting back it differs in the third digit
      const drawn = { items: 10_000, bad: 100 * (k + 1), drawn: 52 }
      expect(Math.abs(hypergeometricAtMost(3, drawn) - accepted)).toBeLessThan(2e-3)
    })
  })
})

test('a lady who tells four cups of eight: 1, 16, 36, 16, 1 of 70 (Fisher, The Design of Experiments, 1935)', () => {
  const ways = [1, 16, 36, 16, 1]
  ways.reduce((sum, count, right) => {
    expect(hypergeometricAtMost(right, { items: 8, bad: 4, drawn: 4 })).toBeCloseTo((sum + count) / 70, 14)
    return sum + count
  }, 0)
})

/** Newcombe, Statistics in Medicine 17, 857 (1998), Table I, method 5: 95 % limits, from memory. */
test.each([
  [81, 263, 0.2527, 0.3676],
  [15, 148, 0.0578, 0.1617],
  [0, 20, 0, 0.1684],
  [1, 29, 0.0009, 0.1776],
])('Clopper and Pearson’s limits of %i in %i', (failed, tested, least, most) => {
  expect(Math.abs(leastShare(failed, tested, 0.975) - least)).toBeLessThan(6e-5)
  expect(Math.abs(mostShare(failed, tested, 0.975) - most)).toBeLessThan(6e-5)
})

test('30 clusters of 7 with a design effect of 2 have the worth of 105 drawn one by one', () => {
  // Henderson and Sundaresan, Bulletin of the WHO 60, 253 (1982), from memory: 96 for ± 10 % at 50 %, twice that, in 30 × 7
  expect(designEffect(7, 1 / 6)).toBeCloseTo(2, 12)
  expect((30 * 7) / designEffect(7, 1 / 6)).toBeGreaterThanOrEqual(96)
})
