/** The numbers in rising order, in an array of their own. */
export function inOrder(values: ArrayLike<number>): Float64Array {
  return Float64Array.from(values).sort()
}

/** Middle of numbers in rising order; the mean of the two middle ones of an even count; NaN of none. */
export function medianOfSorted(sorted: ArrayLike<number>): number {
  const { length } = sorted
  if (length === 0) return NaN
  const half = length >> 1
  return length % 2 === 1 ? sorted[half] : sorted[half - 1] / 2 + sorted[half] / 2
}

export function median(values: ArrayLike<number>): number {
  return medianOfSorted(inOrder(values))
}

/** Median absolute deviation from the median (Hampel 1974), not scaled; NaN of no numbers. */
export function medianDeviation(values: ArrayLike<number>, middle = median(values)): number {
  return median(Float64Array.from(values, (x) => Math.abs(x - middle)))
}

/**
 * Where a share p of the numbers lies below. Rules give different results for few numbers, so that the rule is part of
 * the result:
 * `nPlusOne`: place p (n + 1), counted from 1 (NIST/SEMATECH e-Handbook, 7.2.6.2); `linear`: place p (n − 1), from 0.
 * Places between two numbers are interpolated, places beyond the ends are the ends.
 */
export type QuantileRule = 'nPlusOne' | 'linear'

export function quantileOfSorted(sorted: ArrayLike<number>, share: number, rule: QuantileRule): number {
  const { length } = sorted
  if (length === 0) return NaN
  const place = rule === 'nPlusOne' ? share * (length + 1) - 1 : share * (length - 1)
  if (place <= 0) return sorted[0]
  if (place >= length - 1) return sorted[length - 1]
  const below = Math.floor(place)
  return sorted[below] + (place - below) * (sorted[below + 1] - sorted[below])
}

export interface Fences {
  readonly lowerQuartile: number
  readonly upperQuartile: number
  /** 1.5 and 3 interquartile ranges outside the quartiles. */
  readonly inner: readonly [number, number]
  readonly outer: readonly [number, number]
}

/** Inner and outer fences of the box plot (Tukey 1977, Exploratory Data Analysis). */
export function fencesOf(values: ArrayLike<number>, rule: QuantileRule): Fences {
  const sorted = inOrder(values)
  const lowerQuartile = quantileOfSorted(sorted, 0.25, rule)
  const upperQuartile = quantileOfSorted(sorted, 0.75, rule)
  const range = upperQuartile - lowerQuartile
  const at = (times: number) => [lowerQuartile - times * range, upperQuartile + times * range] as const
  return { lowerQuartile, upperQuartile, inner: at(1.5), outer: at(3) }
}
