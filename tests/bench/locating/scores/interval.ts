import type { RandomStream } from '../../../../src/base/random.ts'

export interface Interval {
  readonly value: number
  readonly low: number
  readonly high: number
}

/** Mean with a 95 % interval of plus and minus 1.96 standard errors; NaN never: nothing gives zeros. */
export function meanInterval(values: readonly number[]): Interval {
  const n = values.length
  if (n === 0) return { value: 0, low: 0, high: 0 }
  const value = values.reduce((a, b) => a + b, 0) / n
  const squares = values.reduce((sum, x) => sum + (x - value) ** 2, 0)
  const half = n > 1 ? 1.96 * Math.sqrt(squares / (n - 1) / n) : 0
  return { value, low: value - half, high: value + half }
}

/** 95 % interval of a figure over items drawn again with replacement (B. Efron 1979). */
export function bootstrapInterval<T>(
  items: readonly T[],
  figure: (items: readonly T[]) => number,
  random: RandomStream,
  rounds = 200,
): Interval {
  const value = figure(items)
  const again = Array.from({ length: rounds }, () =>
    figure(items.map(() => items[random.integer(items.length)])),
  ).sort((a, b) => a - b)
  return { value, low: again[Math.floor(0.025 * rounds)], high: again[Math.ceil(0.975 * rounds) - 1] }
}
