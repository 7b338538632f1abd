/** ln(Σ exp xᵢ) without overflow; −Infinity for no terms. */
export function logSumExp(values: ArrayLike<number>): number {
  let most = -Infinity
  for (let i = 0; i < values.length; i++) if (values[i] > most) most = values[i]
  if (most === -Infinity || most === Infinity) return most
  let sum = 0
  for (let i = 0; i < values.length; i++) sum += Math.exp(values[i] - most)
  return most + Math.log(sum)
}

/** ln(exp a + exp b). */
export function logAdd(a: number, b: number): number {
  if (a === -Infinity) return b
  if (b === -Infinity) return a
  const most = Math.max(a, b)
  return most + Math.log1p(Math.exp(Math.min(a, b) - most))
}
