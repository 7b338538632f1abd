/**
 * Smallest false-discovery rate at which each of the chances counts as a discovery (Benjamini and Hochberg 1995, J. R.
 * Statist. Soc. B 57, 289; step-up): with m chances in rising order,
 *
 *     q_(k) = min over j ≥ k of p_(j) m / j,   at most 1
 *
 * In the order of `chances`. The rate holds for independent and for positively dependent chances. O(m log m).
 */
export function discoveryRates(chances: ArrayLike<number>): Float64Array {
  const count = chances.length
  const sorted = Float64Array.from(chances).sort()
  const rateAt = new Float64Array(count)
  let least = 1
  for (let k = count - 1; k >= 0; k--) {
    least = Math.min(least, (sorted[k] * count) / (k + 1))
    rateAt[k] = least
  }
  return Float64Array.from(chances, (chance) => rateAt[lastPlaceOf(sorted, chance)])
}

/** The last place of a number that is among sorted ones: of equal chances all have the rate of the last. */
function lastPlaceOf(sorted: Float64Array, value: number): number {
  let low = 0
  let high = sorted.length
  while (low < high) {
    const middle = (low + high) >>> 1
    if (sorted[middle] <= value) low = middle + 1
    else high = middle
  }
  return low - 1
}
