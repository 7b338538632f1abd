/** Chi-squares up to this quantile are what a site that fits its model gives nineteen times of twenty. */
const usualZ = 1.645

/**
 * The power that the readings' density is raised to where they fit the best explanation worse than they should: the
 * 95 % point of chi-square over what it is, 1 where it is no larger. As if every spread were wider by the root of that
 * (power likelihood; Miller and Dunson 2019). The 95 % point after Wilson and Hilferty 1931.
 */
export function trustIn(chiSquare: number, degrees: number): number {
  if (degrees === 0) return 1
  const ninth = 2 / (9 * degrees)
  const usual = degrees * (1 - ninth + usualZ * Math.sqrt(ninth)) ** 3
  return chiSquare > usual ? usual / chiSquare : 1
}

/**
 * What stands against every chance that is stated, whatever the readings: a drawing that is wrong in a way that nobody
 * thought of, two labels exchanged, a site unlike its model. Judgement.
 */
export const modelDoubt = 0.005

/** A chance as far as the model supports it. */
export function supported(chance: number): number {
  return (1 - modelDoubt) * chance
}
