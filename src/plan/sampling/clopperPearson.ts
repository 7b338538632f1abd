import { binomialAtMost } from './binomial.ts'

/**
 * The smallest share of bad ones that `failed` or fewer of `tested` speak against with this confidence, one-sided: the
 * upper limit of Clopper and Pearson (Biometrika 26, 404, 1934), P(X ≤ failed | limit) = 1 − confidence, by halving.
 */
export function mostShare(failed: number, tested: number, confidence: number): number {
  if (failed >= tested) return 1
  return halved((share) => binomialAtMost(failed, tested, share) > 1 - confidence)
}

/** The largest share that so many failures speak against: P(X ≥ failed | limit) = 1 − confidence. */
export function leastShare(failed: number, tested: number, confidence: number): number {
  return failed <= 0 ? 0 : 1 - mostShare(tested - failed, tested, confidence)
}

/** Where a statement that holds from 0 on ceases to; to 1e-15 or so. */
function halved(holds: (share: number) => boolean): number {
  let [low, high] = [0, 1]
  for (let k = 0; k < 60; k++) {
    const middle = (low + high) / 2
    if (holds(middle)) low = middle
    else high = middle
  }
  return (low + high) / 2
}
