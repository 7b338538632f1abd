import { describe, expect, it } from 'vitest'
import { randomStream } from '../../../../src/base/random.ts'
import { binned, calibrationError } from './calibration.ts'
import { bootstrapInterval, meanInterval } from './interval.ts'

/** States whose chances are `came(stated)`. */
function statesOf(count: number, came: (stated: number) => number, seed: number) {
  const random = randomStream(seed)
  return Array.from({ length: count }, () => {
    const stated = random.uniform()
    return [stated, random.uniform() < came(stated) ? 1 : 0] as const
  })
}

/** Without the correction for what chance adds. */
function plainError(states: readonly (readonly [number, number])[]) {
  const bins = binned(states)
  const total = bins.reduce((sum, { count }) => sum + count, 0)
  return Math.sqrt(bins.reduce((sum, b) => sum + (b.count / total) * (b.stated - b.outcome) ** 2, 0))
}

describe('calibration error', () => {
  it('is nothing on average where every chance is meant', () => {
    const squares = Array.from({ length: 40 }, (_, k) => {
      const states = statesOf(600, (p) => p, 100 + k)
      return { corrected: calibrationError(binned(states)) ** 2, plain: plainError(states) ** 2 }
    })
    const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length
    const corrected = mean(squares.map((s) => s.corrected))
    const plain = mean(squares.map((s) => s.plain))
    // 15 bins of 40 states: chance alone adds the mean of p (1 − p) / 40
    expect(plain).toBeGreaterThan(0.7 / (6 * 40))
    expect(corrected).toBeLessThan(plain / 3)
  })

  it('is what the chances are off by', () => {
    const states = statesOf(60_000, (p) => Math.max(0, p - 0.2 * (p > 0.2 ? 1 : 0)), 7)
    // four fifths of the states are 0.2 too high
    expect(calibrationError(binned(states))).toBeCloseTo(0.2 * Math.sqrt(0.8), 2)
  })

  it('knows over-confidence of a known size', () => {
    const states = statesOf(60_000, (p) => 0.5 + 0.5 * (p - 0.5), 8)
    // the difference is (p − ½) / 2, whose mean square is 1/48
    expect(calibrationError(binned(states))).toBeCloseTo(Math.sqrt(1 / 48), 2)
  })

  it('is nothing without states, and bins hold equal numbers', () => {
    expect(calibrationError([])).toBe(0)
    const counts = binned(statesOf(1000, (p) => p, 9)).map(({ count }) => count)
    expect(Math.max(...counts) - Math.min(...counts)).toBeLessThanOrEqual(1)
    expect(counts.reduce((a, b) => a + b, 0)).toBe(1000)
  })
})

describe('intervals', () => {
  it('of means hold the truth in about nineteen of twenty', () => {
    let held = 0
    for (let k = 0; k < 400; k++) {
      const random = randomStream(1000 + k)
      const { low, high } = meanInterval(Array.from({ length: 60 }, () => 2 + random.normal()))
      if (low <= 2 && 2 <= high) held++
    }
    expect(held).toBeGreaterThan(365)
    expect(held).toBeLessThan(396)
  })

  it('by drawing again agree with the standard error of a mean', () => {
    const random = randomStream(5)
    const values = Array.from({ length: 300 }, () => random.normal())
    const mean = (items: readonly number[]) => items.reduce((a, b) => a + b, 0) / items.length
    const plain = meanInterval(values)
    const again = bootstrapInterval(values, mean, random, 1000)
    expect(again.value).toBe(plain.value)
    expect(again.high - again.low).toBeCloseTo(plain.high - plain.low, 1)
  })
})
