import { logSumExp } from '../../base/logSum.ts'

/**
 * P(X ≤ most), X the number of bad ones among `trials` of which each is bad with chance `share`: the terms of the
 * binomial by their ratio, summed in logs. Relative error about 1e-16 · most. O(most).
 */
export function binomialAtMost(most: number, trials: number, share: number): number {
  if (most < 0) return 0
  if (most >= trials || share === 0) return 1
  if (share === 1) return 0
  const lnOdds = Math.log(share) - Math.log1p(-share)
  const terms = new Float64Array(most + 1)
  terms[0] = trials * Math.log1p(-share)
  for (let x = 0; x < most; x++) terms[x + 1] = terms[x] + lnOdds + Math.log((trials - x) / (x + 1))
  return Math.min(1, Math.exp(logSumExp(terms)))
}
