import { digamma, trigamma, trigammaInverse } from './gammaDerivatives.ts'
import { median, medianDeviation } from './orderStatistics.ts'
import { madDegrees, meanLnMadSquare } from './smallGroups.ts'

/** A variance and how many degrees of freedom it is worth. */
export interface Scale {
  readonly variance: number
  readonly degrees: number
}

/** What is borrowed at most: beyond this no number says more than the scale of the other groups. */
const mostBorrowed = 60

/**
 * A group's own variance from its MAD, scaled so that its ln has the mean and variance of σ² χ²_d / d with d the degrees
 * that the MAD of so many numbers is worth; `leastVariance` is what instruments leave open, and is never undercut.
 */
export function ownScale(values: ArrayLike<number>, leastVariance = 0): Scale {
  const degrees = madDegrees(values.length)
  const lnFactor = digamma(degrees / 2) - Math.log(degrees / 2) - meanLnMadSquare(values.length)
  const mad = medianDeviation(values)
  return { variance: Math.max(mad * mad * Math.exp(lnFactor), leastVariance), degrees }
}

/**
 * The scale that groups of one class share (Smyth 2004, Statist. Appl. Genet. Mol. Biol. 3, 3; from memory): variances
 * σ_g² scatter about s0² like an inverse chi-square with d0 degrees. With e_g = ln s_g² − ψ(d_g/2) + ln(d_g/2),
 *
 *     ψ′(d0/2) = variance of e_g − mean of ψ′(d_g/2),   ln s0² = centre of e_g + ψ(d0/2) − ln(d0/2)
 *
 * The centre is the median, so that a few groups with a fault in them do not widen all others. No degrees for fewer than
 * `fewestGroups`: nothing is borrowed.
 */
export function sharedScale(groups: readonly Scale[], fewestGroups = 3): Scale {
  const counted = groups.filter(({ variance }) => variance > 0)
  if (counted.length < fewestGroups) return { variance: 0, degrees: 0 }
  const e = counted.map(
    ({ variance, degrees }) => Math.log(variance) - digamma(degrees / 2) + Math.log(degrees / 2),
  )
  const noise = counted.reduce((sum, { degrees }) => sum + trigamma(degrees / 2), 0) / e.length
  const centre = median(e)
  const between = e.reduce((sum, x) => sum + (x - centre) ** 2, 0) / (e.length - 1) - noise
  // what few groups agree on may be chance: no more is borrowed than the groups together are worth
  const worth = counted.reduce((sum, { degrees }) => sum + degrees, 0)
  const found = between > 0 ? 2 * trigammaInverse(between) : Infinity
  const degrees = Math.min(found, worth, mostBorrowed)
  const shift = found === Infinity ? 0 : digamma(found / 2) - Math.log(found / 2)
  return { variance: Math.exp(centre + shift), degrees }
}

/** A group's scale with what is borrowed: (d0 s0² + d s²)/(d0 + d), d0 + d degrees. */
export function moderatedScale(own: Scale, shared: Scale): Scale {
  const degrees = own.degrees + shared.degrees
  return { variance: (own.degrees * own.variance + shared.degrees * shared.variance) / degrees, degrees }
}
