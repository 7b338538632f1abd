import { discoveryRates } from '../base/falseDiscovery.ts'
import { median, medianDeviation } from '../base/orderStatistics.ts'
import { moderatedScale, ownScale, sharedScale, type Scale } from '../base/sharedScale.ts'
import { highCutoff, madToSd } from '../base/smallGroups.ts'
import { studentQuantile, studentTail } from '../base/studentT.ts'
import type { Standing } from '../model/comparison.ts'

/** At most about this share of what is told as high is so by chance, on average over sound sites: what is stated. */
export const falseDiscoveryRate = 0.05

/** The rate that the step-up is held to for that: readings share joints, and sound ones have tails of their own. */
export const heldRate = 0.03

/** Tails of Student's t between two pauses: a microsecond or two each. */
const tailsPerSlice = 1024

/**
 * However many readings agree on a scale, sound readings have thicker tails than a normal variable: clips and joints are only
 * roughly log-normal. Student's t is given no more degrees than this (tests/compare measures what that leaves).
 */
const mostDegrees = 7

/** A group as numbers: normalised readings and what instruments leave open of each. */
export interface NumberedGroup {
  readonly x: Float64Array
  readonly floor: Float64Array
  /** Groups with one key lend each other scale. */
  readonly lends: string
}

export interface GroupStanding {
  readonly middle: number
  readonly sd: number
  readonly degrees: number
  readonly borrowedDegrees: number
  readonly cutoff: number
  /** Modified z by the group's own scatter. */
  readonly z: Float64Array
  readonly chance: Float64Array
  readonly rate: Float64Array
  readonly standing: readonly Standing[]
}

/** Standard deviation of the median of n numbers about as wide as a normal sample's, in their standard deviations. */
export function medianSd(count: number): number {
  return Math.sqrt(Math.PI / 2 / count)
}

/**
 * Scales of all groups: a group's own from its median deviation, never below its instruments' floor, with what groups
 * of its method lend. Groups lend to groups of their own visit and method; of fewer than three there nothing is borrowed.
 */
function* scalesOf(
  groups: readonly NumberedGroup[],
): Generator<number, readonly (Scale & { readonly borrowed: number })[]> {
  const own: Scale[] = []
  for (const { x, floor } of groups) {
    yield 0
    own.push(ownScale(x, median(floor) ** 2))
  }
  const byLender = new Map<string, Scale[]>()
  groups.forEach(({ lends }, k) => byLender.set(lends, [...(byLender.get(lends) ?? []), own[k]]))
  const lent = new Map([...byLender].map(([key, scales]) => [key, sharedScale(scales)]))
  return groups.map(({ lends }, k) => {
    const shared = lent.get(lends) ?? { variance: 0, degrees: 0 }
    const { variance, degrees } = moderatedScale(own[k], shared)
    return { variance, degrees: Math.min(degrees, mostDegrees), borrowed: shared.degrees }
  })
}

/**
 * How each reading stands among its peers, one-sided, for high is what a bad joint reads:
 *
 *     t = (x − median) / s,   chance = tail of Student's t,   s² and degrees moderated
 *
 * with false-discovery rates over all groups given (one visit). `watch`: modified z above the cut-off of the group's size.
 * Order and unit of readings and a factor common to all expectations change nothing.
 */
export function* standingOf(groups: readonly NumberedGroup[]): Generator<number, readonly GroupStanding[]> {
  const scales = yield* scalesOf(groups)
  const chance = new Float64Array(groups.reduce((sum, { x }) => sum + x.length, 0))
  let at = 0
  for (const [k, { x }] of groups.entries()) {
    const middle = median(x)
    const sd = Math.sqrt(scales[k].variance)
    for (const value of x) {
      if (at % tailsPerSlice === 0) yield at / chance.length
      chance[at++] = studentTail((value - middle) / sd, scales[k].degrees)
    }
  }
  const rate = discoveryRates(chance)
  yield 1
  const standings: GroupStanding[] = []
  at = 0
  for (const [k, group] of groups.entries()) {
    const end = at + group.x.length
    standings.push(standAmong(group, scales[k], chance.slice(at, end), rate.slice(at, end)))
    at = end
    yield 1
  }
  return standings
}

function standAmong(
  { x, floor }: NumberedGroup,
  scale: Scale & { readonly borrowed: number },
  chance: Float64Array,
  rate: Float64Array,
): GroupStanding {
  const middle = median(x)
  const mad = Math.max(medianDeviation(x, middle), median(floor) / madToSd)
  const z = x.map((value) => (value - middle) / (madToSd * mad))
  const cutoff = highCutoff(x.length, 0.05)
  return {
    middle,
    sd: Math.sqrt(scale.variance),
    degrees: scale.degrees,
    borrowedDegrees: scale.borrowed,
    cutoff,
    z,
    chance,
    rate,
    standing: Array.from(rate, (q, k): Standing => {
      if (q <= heldRate) return 'high'
      return z[k] > cutoff ? 'watch' : 'alike'
    }),
  }
}

/** Half of 90 % intervals about a group's middle, in x: what the middle leaves open, with a reading's own floor. */
export function reachesOf({ sd, degrees }: GroupStanding, floor: Float64Array): Float64Array {
  const t = studentQuantile(0.05, degrees)
  const ofMiddle = sd * medianSd(floor.length)
  return floor.map((own) => t * Math.hypot(ofMiddle, own))
}
