import { assert } from './assert.ts'

/** Coefficients of Lanczos' approximation with g = 7 and nine terms (Lanczos 1964; table of Godfrey 2001). */
const lanczos = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
]

/** ln Γ(x) for x > 0; relative error some 1e-14. */
export function logGamma(x: number): number {
  assert(x > 0, `the gamma function is asked for at ${x}`)
  if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x)
  let sum = lanczos[0]
  for (let k = 1; k < lanczos.length; k++) sum += lanczos[k] / (x - 1 + k)
  const t = x + 6.5
  return 0.5 * Math.log(2 * Math.PI) + (x - 0.5) * Math.log(t) - t + Math.log(sum)
}

/**
 * Regularised incomplete beta function I_x(a, b), by its continued fraction (Abramowitz and Stegun 26.5.8), evaluated
 * with the modified method of Lentz (1976), on the side where it converges fast.
 */
export function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0
  if (x >= 1) return 1
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a)
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x))
  const tiny = 1e-300
  const away = (value: number) => (Math.abs(value) < tiny ? tiny : value)
  let c = 1
  let d = 1 / away(1 - ((a + b) * x) / (a + 1))
  let fraction = d
  for (let m = 1; m <= 300; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
    d = 1 / away(1 + even * d)
    c = away(1 + even / c)
    fraction *= d * c
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1))
    d = 1 / away(1 + odd * d)
    c = away(1 + odd / c)
    fraction *= d * c
    if (Math.abs(d * c - 1) < 1e-15) break
  }
  return (front * fraction) / a
}

/** Chance that Student's t with `degrees` of freedom (any positive number) exceeds t. */
export function studentTail(t: number, degrees: number): number {
  if (t === Infinity) return 0
  if (t < 0) return 1 - studentTail(-t, degrees)
  return 0.5 * incompleteBeta(degrees / (degrees + t * t), degrees / 2, 0.5)
}

/** The t that is exceeded with chance `tail`, by halving; 0 < tail < 1. */
export function studentQuantile(tail: number, degrees: number): number {
  assert(tail > 0 && tail < 1, `a tail of ${tail} has no quantile`)
  if (tail > 0.5) return -studentQuantile(1 - tail, degrees)
  let high = 1
  while (studentTail(high, degrees) > tail) high *= 2
  let low = 0
  for (let k = 0; k < 200 && high - low > 1e-14 * high; k++) {
    const middle = low + (high - low) / 2
    if (studentTail(middle, degrees) > tail) low = middle
    else high = middle
  }
  return low + (high - low) / 2
}
