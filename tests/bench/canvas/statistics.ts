/** The value below which a share of the values lies, 0 … 1; NaN of none. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b)
  return sorted.length === 0 ? NaN : sorted[Math.min(Math.floor(share * sorted.length), sorted.length - 1)]
}

export function median(values: readonly number[]): number {
  return quantile(values, 0.5)
}

const frameMs = 1000 / 60

/** Frames of a 60 Hz screen that passed without a new picture. */
export function lostFrames(intervalsMs: readonly number[]): number {
  return intervalsMs.reduce((lost, ms) => lost + Math.max(Math.round(ms / frameMs) - 1, 0), 0)
}

/** The middle of several runs with the least and the most of them. */
export function spreadText(values: readonly number[], digits = 1): string {
  const of = (value: number) => value.toFixed(digits)
  return `${of(median(values))} (${of(Math.min(...values))}–${of(Math.max(...values))})`
}
