/** One way in which a joint can be bad: raised by a stretch of ohms, or open. */
export interface Severity {
  /** Middle of the stretch, geometrically; Infinity for open. */
  readonly addedOhm: number
  readonly logPrior: number
}

/** Half of the defects are open or missing, half raised. */
const openShare = 0.5
const mostAddedOhm = 1000
const leastAddedOhm = 0.001
/** Neighbouring stretches lie a factor of two apart; within one the ln varies by this standard deviation. */
export const severityCellLnSd = Math.LN2 / Math.sqrt(12)

/**
 * The severities of a joint that has gone bad: open with probability one half, else raised by an amount that
 * is log-uniform from the larger of its own median and 1 mΩ up to 1000 Ω, in stretches of about a factor of two.
 */
export function severitiesOf(medianOhm: number): readonly Severity[] {
  const from = Math.max(medianOhm, leastAddedOhm)
  const span = Math.max(Math.log(mostAddedOhm / from), Math.LN2)
  const count = Math.ceil(span / Math.LN2)
  const raised = Array.from({ length: count }, (_, j): Severity => ({
    addedOhm: from * Math.exp((span * (j + 0.5)) / count),
    logPrior: Math.log((1 - openShare) / count),
  }))
  return [...raised, { addedOhm: Infinity, logPrior: Math.log(openShare) }]
}
