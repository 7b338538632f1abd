/** What several measurements of one thing say: the middle one, and how far the others lie from it. */
export interface Spread {
  readonly median: number
  readonly least: number
  readonly most: number
  readonly count: number
}

/** Of an even count the mean of the two in the middle. Throws without values. */
export function spreadOf(values: readonly number[]): Spread {
  if (values.length === 0) throw new Error('nothing was measured')
  const sorted = [...values].sort((a, b) => a - b)
  const upper = sorted[sorted.length >> 1]
  const lower = sorted[(sorted.length - 1) >> 1]
  return {
    median: (lower + upper) / 2,
    least: sorted[0],
    most: sorted[sorted.length - 1],
    count: sorted.length,
  }
}
