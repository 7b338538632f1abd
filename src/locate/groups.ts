import { riseOhm } from '../network/jointSweep.ts'
import type { PreparedLevel, Shift } from './evidence.ts'
import type { Observation } from './observations.ts'
import { quadraticForm, timesPrecision, widened, type Precision } from './precision.ts'
import { directionsBeside, type Direction } from './sets/directions.ts'
import { loopRises } from './sets/loopDirection.ts'
import { badJointsOf, joined, type MemberList, type SetInputs } from './sets/setInputs.ts'
import type { JointPosterior, SetRanking, StateShare } from './sets/setRanking.ts'
import { setShift } from './sets/setShift.ts'

/** Joints that the readings do not tell apart, the likeliest first. */
export interface JointGroup {
  readonly joints: readonly JointPosterior[]
  /** Chance that some joint of the group is bad, with what was only screened as far as a joint of it is in it. */
  readonly probability: number
  /** The likeliest state of the site in which the first joint is bad. */
  readonly state: SiteState
  /** What else is bad in it. */
  readonly rest: MemberList
  /** Region of the first joint. */
  readonly region: number
}

export interface SiteState {
  readonly members: MemberList
  readonly level: number
}

/**
 * Two joints are in one group when no amount of failure of the one can be told from the likeliest failure of
 * the other: the readings would differ by less than this many standard deviations, all taken together.
 */
const sameBelow = 1

/** Joints with less than this share of the likeliest one's chance are not gathered with it. */
const leastShare = 1e-4

/** Groups that are listed, and those beyond that have so much of a chance. */
export interface GroupLimits {
  readonly usual: number
  readonly most: number
  readonly leastBeyond: number
}

export const usualGroups: GroupLimits = { usual: 12, most: 100, leastBeyond: 0.05 }

/** Inverse covariance of the finite readings with the uncertainty that a hypothesis brings. */
function precisionUnder({ precision, finite }: PreparedLevel, { columns }: Shift): Precision {
  let wide = precision
  for (const column of columns)
    wide = widened(
      wide,
      Float64Array.from(finite, (p) => column[p]),
    ).precision
  return wide
}

/** The likeliest failure of a joint that others are held against, finite readings only. */
interface Opener {
  readonly level: PreparedLevel
  /** Rise beside the rest, with Infinity where no path is left, and the precision under it times what is finite of it. */
  readonly riseOhm: Float64Array
  readonly precision: Precision
  readonly weighted: Float64Array
  readonly square: number
  readonly isFinite: boolean
}

function openerOf(level: PreparedLevel, shift: Shift, rise: Float64Array): Opener {
  const precision = precisionUnder(level, shift)
  const ofFinite = Float64Array.from(level.finite, (p) => rise[p])
  const isFinite = rise.every((x) => x !== Infinity)
  const weighted = new Float64Array(ofFinite.length)
  if (!isFinite) return { level, riseOhm: rise, precision, weighted, square: 0, isFinite }
  timesPrecision(precision, ofFinite, weighted)
  return { level, riseOhm: rise, precision, weighted, square: dot(ofFinite, weighted), isFinite }
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i]
  return sum
}

function risesAlong({ squared, loopS, onLoops }: Direction, addedOhm: number): Float64Array {
  if (onLoops) return loopRises(onLoops, addedOhm).rise
  return squared.map((share) => riseOhm(share, loopS, addedOhm))
}

/** Square of the difference of two rises in standard deviations; Infinity where only one leaves a path. */
function differenceSquared({ level, riseOhm, precision }: Opener, other: Float64Array): number {
  for (let p = 0; p < riseOhm.length; p++)
    if ((riseOhm[p] === Infinity) !== (other[p] === Infinity)) return Infinity
  const difference = Float64Array.from(level.finite, (p) =>
    riseOhm[p] === Infinity ? 0 : riseOhm[p] - other[p],
  )
  return quadraticForm(precision, difference)
}

/** Squares beyond this leave too little of their difference; and the closer it is to the limit, the less is left. */
const mostSquare = 1e9
const clearly = 1e-3

/**
 * Whether any severity of a joint raises the readings like the opener does. All severities are multiples s of the same
 * shares v, and with W the precision under the opener, r its rise,
 *
 *   |r − s v|² = rᵀWr − 2 s vᵀWr + s² vᵀWv
 *
 * Only where that is too close to call is the difference itself looked at. O(n²) a joint.
 */
function isLike(
  opener: Opener,
  direction: Direction,
  addedOhms: readonly number[],
  observations: readonly Observation[],
): boolean {
  const { level, precision, weighted } = opener
  const share = Float64Array.from(level.finite, (p) => direction.squared[p])
  const across = dot(share, weighted)
  const square = quadraticForm(precision, share)
  return addedOhms.some((addedOhm) => {
    if (!isAlikeOverRange(opener, direction, addedOhm, observations)) return false
    if (direction.onLoops)
      return Math.max(0, differenceSquared(opener, risesAlong(direction, addedOhm))) < sameBelow
    const s = 1 / (1 / addedOhm + direction.loopS)
    if (!opener.isFinite && s !== Infinity) return false
    if (opener.isFinite && s * s * square < mostSquare) {
      const quick = opener.square - 2 * s * across + s * s * square
      if (Math.abs(quick - sameBelow) > clearly) return quick < sameBelow
    }
    return Math.max(0, differenceSquared(opener, risesAlong(direction, addedOhm))) < sameBelow
  })
}

/** Ohms that have a reading over range, with room for what else lies between its ends. */
const overShare = 0.5

/** Whether the same over-range readings are owed to both. */
function isAlikeOverRange(
  { level, riseOhm: openerOhm }: Opener,
  { squared, loopS, onLoops }: Direction,
  addedOhm: number,
  observations: readonly Observation[],
): boolean {
  const onLoopOhm = onLoops ? loopRises(onLoops, addedOhm).rise : null
  return level.over.every((p) => {
    const own = onLoopOhm ? onLoopOhm[p] : riseOhm(squared[p], loopS, addedOhm)
    const most = overShare * observations[p].atLeastOhm
    return own >= most === openerOhm[p] >= most
  })
}

/** The likeliest state of the site that has a joint bad: of its region, with the others as they are likeliest. */
function likeliestWith(
  { regions, best }: SetRanking,
  regionOf: ReadonlyMap<number, number>,
  candidate: number,
): { readonly state: SiteState; readonly region: number } | null {
  const region = regionOf.get(candidate) ?? -1
  let own: StateShare | null = null
  let most = 0
  for (const state of regions[region]?.states ?? []) {
    const at = state.members.findIndex((one) => one.candidate === candidate)
    const chance = at < 0 ? 0 : state.probability * state.badShare[at]
    if (chance > most) {
      most = chance
      own = state
    }
  }
  if (!own) return null
  const others = best.members.filter((one) => regionOf.get(one.candidate) !== region)
  return { state: { members: joined(own.members, others), level: own.level }, region }
}

/** Chance that some of these joints are bad; regions taken as independent of each other. */
function chanceOfAny({ regions }: SetRanking, candidates: ReadonlySet<number>, within: ReadonlySet<number>) {
  let none = 1
  for (const region of within) {
    const some = regions[region].states.reduce((sum, { members, probability, badShare }) => {
      const sound = members.reduce(
        (product, { candidate }, m) => (candidates.has(candidate) ? product * (1 - badShare[m]) : product),
        1,
      )
      return sum + probability * (1 - sound)
    }, 0)
    none *= Math.max(0, 1 - some)
  }
  return 1 - none
}

/**
 * Gathers ranked joints into groups, best first. The likeliest joint that is in no group yet opens one; others
 * join it when one of their severities in its stead, all else as it is, comes closer than one standard deviation.
 * O(groups × joints × readings²). Yields after every group.
 */
export function* groupJoints(
  inputs: SetInputs,
  sets: SetRanking,
  { usual, most, leastBeyond }: GroupLimits = usualGroups,
): Generator<number, readonly JointGroup[]> {
  const { network, models, levels, choices } = inputs
  const regionOf = new Map(
    sets.regions.flatMap(({ candidates }, r) => candidates.map((k) => [k, r] as const)),
  )
  let free = sets.joints.filter(({ probability }) => probability > 0)
  const groups: JointGroup[] = []
  while (free.length > 0 && groups.length < most) {
    const first = free[0]
    if (groups.length >= usual && first.probability < leastBeyond) break
    const likeliest = likeliestWith(sets, regionOf, first.candidate)
    if (!likeliest) break
    const { state, region } = likeliest
    const rest = state.members.filter(({ candidate }) => candidate !== first.candidate)
    const directions = directionsBeside(inputs, rest, state.level)
    const bad = badJointsOf(inputs, state.members)
    const own = bad.find(({ candidate }) => candidate === first.candidate)?.addedOhm ?? Infinity
    const shift = setShift(network, models, state.level, bad)
    const opener = openerOf(levels[state.level], shift, risesAlong(directions(first.candidate), own))
    const isInRest = new Set(rest.map(({ candidate }) => candidate))
    const belongs = ({ candidate, probability }: JointPosterior) =>
      candidate === first.candidate ||
      (!isInRest.has(candidate) &&
        probability >= leastShare * first.probability &&
        isLike(
          opener,
          directions(candidate),
          choices[candidate].map(({ addedOhm }) => addedOhm),
          inputs.measurement.observations,
        ))
    const joints = free.filter(belongs)
    const members = new Set(joints.map(({ candidate }) => candidate))
    free = free.filter(({ candidate }) => !members.has(candidate))
    const within = new Set(joints.map(({ candidate }) => regionOf.get(candidate) ?? region))
    // of what was only screened at least what has the joint in it that is in most of it
    const screened = Math.max(...joints.map((joint) => joint.screenedOpen + joint.screenedRaised))
    const explored = 1 - sets.regions[region].unexplored
    const probability = Math.min(1, (chanceOfAny(sets, members, within) + screened) * explored)
    groups.push({ joints, probability, state, rest, region })
    yield groups.length / most
  }
  return groups.sort((a, b) => b.probability - a.probability)
}
