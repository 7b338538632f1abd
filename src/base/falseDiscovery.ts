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
  const order = Array.from({ length: count }, (_, k) => k).sort((a, b) => chances[a] - chances[b])
  const rates = new Float64Array(count)
  let least = 1
  for (let rank = count; rank >= 1; rank--) {
    const k = order[rank - 1]
    least = Math.min(least, (chances[k] * count) / rank)
    rates[k] = least
  }
  return rates
}
