/** A bin of pooled states: how many, what was stated on average, and what came of it. */
export interface Bin {
  readonly count: number
  readonly stated: number
  readonly outcome: number
  /** Variance of the outcomes about their mean. */
  readonly variance: number
}

/** Bins of equal numbers of states, by what was stated. */
export function binned(states: readonly (readonly [stated: number, outcome: number])[], bins = 15): Bin[] {
  const sorted = [...states].sort((a, b) => a[0] - b[0])
  const count = Math.max(1, Math.min(bins, Math.floor(sorted.length / 2)))
  return Array.from({ length: count }, (_, k) => {
    const part = sorted.slice(
      Math.floor((k * sorted.length) / count),
      Math.floor(((k + 1) * sorted.length) / count),
    )
    const n = part.length
    const stated = part.reduce((sum, s) => sum + s[0], 0) / n
    const outcome = part.reduce((sum, s) => sum + s[1], 0) / n
    const squares = part.reduce((sum, s) => sum + (s[1] - outcome) ** 2, 0)
    return { count: n, stated, outcome, variance: n > 1 ? squares / (n - 1) : 0 }
  })
}

/**
 * Root mean square difference of stated chance and frequency, freed of what chance alone adds:
 *
 *   Σ_b (n_b / N) [ (stated_b − outcome_b)² − s_b² / n_b ]
 *
 * with s_b² the variance of the outcomes in a bin; 0 where less than nothing is left (A. Kumar, P. Liang, T. Ma
 * 2019, "Verified uncertainty calibration", NeurIPS 32).
 */
export function calibrationError(bins: readonly Bin[]): number {
  const total = bins.reduce((sum, { count }) => sum + count, 0)
  if (total === 0) return 0
  const square = bins.reduce(
    (sum, b) => sum + (b.count / total) * ((b.stated - b.outcome) ** 2 - b.variance / b.count),
    0,
  )
  return Math.sqrt(Math.max(0, square))
}
