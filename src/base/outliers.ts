import { studentQuantile } from './studentT.ts'

function meanAndSd(values: readonly number[]): { readonly mean: number; readonly sd: number } {
  const mean = values.reduce((sum, x) => sum + x, 0) / values.length
  const square = values.reduce((sum, x) => sum + (x - mean) ** 2, 0)
  return { mean, sd: Math.sqrt(square / (values.length - 1)) }
}

/** Largest distance from the mean in standard deviations of the sample (Grubbs 1969), with the value that has it. */
export function grubbs(values: readonly number[]): { readonly g: number; readonly value: number } {
  const { mean, sd } = meanAndSd(values)
  const value = values.reduce((far, x) => (Math.abs(x - mean) > Math.abs(far - mean) ? x : far), mean)
  return { g: sd === 0 ? 0 : Math.abs(value - mean) / sd, value }
}

/** What Grubbs' statistic of a normal sample exceeds with chance `alpha`, on one side or either. */
export function grubbsLimit(count: number, alpha: number, sides: 1 | 2): number {
  const t = studentQuantile(alpha / (sides * count), count - 2)
  return ((count - 1) / Math.sqrt(count)) * Math.sqrt((t * t) / (count - 2 + t * t))
}

export interface EsdStep {
  readonly value: number
  /** Largest distance from the mean of what is left, in its standard deviations. */
  readonly r: number
  readonly limit: number
}

/**
 * Generalised extreme Studentised deviate test for up to `most` outliers (Rosner 1983, Technometrics 25, 165):
 *
 *     λ_i = (n − i) t / √((n − i − 1 + t²)(n − i + 1)),  t exceeded with chance α/(2(n − i + 1)), n − i − 1 degrees
 *
 * The number of outliers is the largest i with R_i > λ_i, whatever the ones before it say: outliers mask each other.
 */
export function esdOutliers(
  values: readonly number[],
  most: number,
  alpha: number,
): { readonly steps: readonly EsdStep[]; readonly outliers: readonly number[] } {
  const left = [...values]
  const steps: EsdStep[] = []
  for (let i = 1; i <= Math.min(most, values.length - 2); i++) {
    const { g: r, value } = grubbs(left)
    const rest = values.length - i
    const t = studentQuantile(alpha / (2 * (rest + 1)), rest - 1)
    steps.push({ value, r, limit: (rest * t) / Math.sqrt((rest - 1 + t * t) * (rest + 1)) })
    left.splice(left.indexOf(value), 1)
  }
  const count = steps.findLastIndex(({ r, limit }) => r > limit) + 1
  return { steps, outliers: steps.slice(0, count).map(({ value }) => value) }
}
