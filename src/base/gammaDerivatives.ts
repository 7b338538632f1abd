/** ψ(x), derivative of ln Γ, x > 0: recurrence up to 8, then the asymptotic series (Abramowitz and Stegun 6.3.18). */
export function digamma(x: number): number {
  let sum = 0
  for (; x < 8; x++) sum -= 1 / x
  const r = 1 / (x * x)
  return sum + Math.log(x) - 0.5 / x - r * (1 / 12 - r * (1 / 120 - r * (1 / 252 - r / 240)))
}

/** ψ′(x), x > 0: the same way (6.4.12). */
export function trigamma(x: number): number {
  let sum = 0
  for (; x < 8; x++) sum += 1 / (x * x)
  const r = 1 / (x * x)
  return sum + 1 / x + r / 2 + (r / x) * (1 / 6 - r * (1 / 30 - r * (1 / 42 - r / 30)))
}

/** The x > 0 with ψ′(x) = value, by halving of ln x; at most 1e6. */
export function trigammaInverse(value: number): number {
  let low = -14
  let high = Math.log(1e6)
  for (let k = 0; k < 80; k++) {
    const middle = (low + high) / 2
    if (trigamma(Math.exp(middle)) > value) low = middle
    else high = middle
  }
  return Math.exp((low + high) / 2)
}
