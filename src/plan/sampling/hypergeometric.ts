import { logSumExp } from '../../base/logSum.ts'

/** So many drawn without putting back from a lot of `items`, `bad` of which are bad. */
export interface DrawnFrom {
  readonly items: number
  readonly bad: number
  readonly drawn: number
}

/**
 * P(X ≤ most), X the number of bad ones drawn: terms of the hypergeometric distribution by their ratio, summed in logs,
 * from the fewest that must be among the drawn. O(min(bad, drawn, items − bad, items − drawn) + most).
 */
export function hypergeometricAtMost(most: number, { items, bad, drawn }: DrawnFrom): number {
  const fewest = Math.max(0, drawn - (items - bad))
  const largest = Math.min(bad, drawn)
  if (most < fewest) return 0
  if (most >= largest) return 1
  const terms = new Float64Array(most - fewest + 1)
  // either no bad one is drawn, or no good one is left
  terms[0] = fewest === 0 ? lnNoneOf(items, bad, drawn) : lnNoneOf(items, items - bad, items - drawn)
  for (let x = fewest; x < most; x++) {
    const ratio = ((bad - x) / (x + 1)) * ((drawn - x) / (items - bad - drawn + x + 1))
    terms[x - fewest + 1] = terms[x - fewest] + Math.log(ratio)
  }
  return Math.min(1, Math.exp(logSumExp(terms)))
}

/** ln of the chance that none of `marked` items is among `drawn` of `items`. */
function lnNoneOf(items: number, marked: number, drawn: number): number {
  const [fewer, other] = marked < drawn ? [marked, drawn] : [drawn, marked]
  let sum = 0
  for (let k = 0; k < fewer; k++) sum += Math.log1p(-other / (items - k))
  return sum
}
