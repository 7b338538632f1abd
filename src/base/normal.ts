const lnSqrt2Pi = 0.9189385332046727

/** Natural log of the density of a normal distribution with mean 0 and the given standard deviation at x. */
export function logNormalDensity(x: number, sd: number): number {
  const z = x / sd
  return -0.5 * z * z - Math.log(sd) - lnSqrt2Pi
}

/**
 * Upper tail 1 − Φ(x) divided by the density φ(x), for x > 0: Laplace's continued fraction
 * 1/(x + 1/(x + 2/(x + 3/(x + …)))), evaluated from the inside.
 */
function millsRatio(x: number): number {
  let tail = x
  for (let k = 80; k >= 1; k--) tail = x + k / tail
  return 1 / tail
}

/**
 * Φ(x), the standard normal distribution function. Power series about 0 (Marsaglia 2004, "Evaluating the
 * Normal Distribution") for |x| ≤ 3, continued fraction beyond: relative error below 1e-13 in both tails.
 */
export function normalCdf(x: number): number {
  if (Number.isNaN(x)) return 0.5
  if (x > 3) return 1 - Math.exp(-0.5 * x * x - lnSqrt2Pi) * millsRatio(x)
  if (x < -3) return Math.exp(-0.5 * x * x - lnSqrt2Pi) * millsRatio(-x)
  let sum = x
  let previous = 0
  let term = x
  for (let i = 3; sum !== previous; i += 2) {
    term *= (x * x) / i
    previous = sum
    sum += term
  }
  return 0.5 + sum * Math.exp(-0.5 * x * x - lnSqrt2Pi)
}

/** ln Φ(x) without underflow for very negative x. */
export function logNormalCdf(x: number): number {
  if (x < -3) return -0.5 * x * x - lnSqrt2Pi + Math.log(millsRatio(-x))
  return Math.log(normalCdf(x))
}

/**
 * Probability that a chi-square variable with `degrees` degrees of freedom exceeds `chiSquare`: the cube-root
 * normal approximation of Wilson and Hilferty (1931), good to about 0.002 from three degrees upwards.
 */
export function chiSquareTail(chiSquare: number, degrees: number): number {
  if (degrees <= 0) return 1
  const spread = 2 / (9 * degrees)
  return normalCdf(-(Math.cbrt(chiSquare / degrees) - (1 - spread)) / Math.sqrt(spread))
}
