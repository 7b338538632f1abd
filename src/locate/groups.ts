import { badJointShift, risesOhm } from './hypothesis.ts'
import type { Measurement, PreparedLevel, Shift } from './evidence.ts'
import { quadraticForm, timesPrecision, widened, type Precision } from './precision.ts'
import type { RankedJoint, RankedState, Ranking } from './rank.ts'

/** Joints that the readings do not tell apart, the likeliest first. */
export interface JointGroup {
  readonly joints: readonly RankedJoint[]
  readonly logWeight: number
}

/**
 * Two joints are in one group when no amount of failure of the one can be told from the likeliest failure of
 * the other: the readings would differ by less than this many standard deviations, all taken together.
 */
const sameBelow = 1

export function likeliestState(joint: RankedJoint): RankedState {
  return joint.states.reduce((a, b) => (b.logWeight > a.logWeight ? b : a))
}

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
  /** Rise, with Infinity where no path is left, and the precision under it times what is finite of it. */
  readonly riseOhm: Float64Array
  readonly precision: Precision
  readonly weighted: Float64Array
  readonly square: number
  readonly isFinite: boolean
}

function openerOf(level: PreparedLevel, shift: Shift): Opener {
  const precision = precisionUnder(level, shift)
  const riseOhm = Float64Array.from(level.finite, (p) => shift.riseOhm[p])
  const isFinite = shift.riseOhm.every((x) => x !== Infinity)
  const weighted = new Float64Array(riseOhm.length)
  if (!isFinite) return { level, riseOhm: shift.riseOhm, precision, weighted, square: 0, isFinite }
  timesPrecision(precision, riseOhm, weighted)
  return { level, riseOhm: shift.riseOhm, precision, weighted, square: dot(riseOhm, weighted), isFinite }
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i]
  return sum
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
 *   |r − s v|² = rᵀWr − 2 s vᵀWr + s² (vᵀBv − Σ (uᵀv)²)
 *
 * `square`: vᵀBv. Only where that is too close to call is the difference itself looked at. O(n) a joint.
 */
function isLike(
  opener: Opener,
  joint: RankedJoint,
  share: Float64Array,
  square: number,
  riseAt: (addedOhm: number) => Float64Array,
): boolean {
  const { level, precision, weighted } = opener
  const c = level.model.loopS[joint.candidate]
  const across = dot(share, weighted)
  let left = square
  for (const u of precision.less) left -= dot(u, share) ** 2
  return joint.states.some(({ severity: { addedOhm } }) => {
    const s = 1 / (1 / addedOhm + c)
    if (!opener.isFinite && s !== Infinity) return false
    if (opener.isFinite && s * s * square < mostSquare) {
      const quick = opener.square - 2 * s * across + s * s * left
      if (Math.abs(quick - sameBelow) > clearly) return quick < sameBelow
    }
    return Math.max(0, differenceSquared(opener, riseAt(addedOhm))) < sameBelow
  })
}

/**
 * Gathers ranked joints into groups, best first. The likeliest joint that is in no group yet opens one; others
 * join it when one of their severities comes closer than one standard deviation. O(groups × joints × readings).
 */
export function groupJoints(ranking: Ranking, measurement: Measurement, most: number): readonly JointGroup[] {
  const n = measurement.observations.length
  const models = ranking.levels.map((level) => level.model)
  const free = [...ranking.joints]
  const groups: JointGroup[] = []
  const known = new Map<number, { readonly share: Float64Array; readonly square: number }>()
  const sharesAt = (level: number, candidate: number) => {
    const key = candidate * models.length + level
    let found = known.get(key)
    if (!found) {
      const { finite, precision } = ranking.levels[level]
      const share = Float64Array.from(finite, (p) => models[level].squared[candidate * n + p])
      found = { share, square: quadraticForm(precision, share) }
      known.set(key, found)
    }
    return found
  }
  while (free.length > 0 && groups.length < most) {
    const [first] = free.splice(0, 1)
    const { severity, level } = likeliestState(first)
    const opener = openerOf(
      ranking.levels[level],
      badJointShift(models, level, first.candidate, severity.addedOhm, n),
    )
    const members = [first]
    for (let i = 0; i < free.length;) {
      const { candidate } = free[i]
      const riseAt = (addedOhm: number) => risesOhm(models[level], candidate, addedOhm, n)
      const { share, square } = sharesAt(level, candidate)
      if (isLike(opener, free[i], share, square, riseAt)) members.push(...free.splice(i, 1))
      else i++
    }
    const top = members[0].logWeight
    const sum = members.reduce((s, joint) => s + Math.exp(joint.logWeight - top), 0)
    groups.push({ joints: members, logWeight: top + Math.log(sum) })
  }
  return groups.sort((a, b) => b.logWeight - a.logWeight)
}
