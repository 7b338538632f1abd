import { badJointShift, risesOhm } from './hypothesis.ts'
import type { Measurement, PreparedLevel, Shift } from './evidence.ts'
import { quadraticForm, widened, type Precision } from './precision.ts'
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

/** Difference of two rises in standard deviations, the second taken at the severity that comes closest. */
function closestDifference(
  rise: Float64Array,
  others: readonly Float64Array[],
  precision: Precision,
  finite: readonly number[],
): number {
  let least = Infinity
  const m = finite.length
  const difference = new Float64Array(m)
  for (const other of others) {
    let comparable = true
    for (let p = 0; p < rise.length; p++) {
      if ((rise[p] === Infinity) !== (other[p] === Infinity)) comparable = false
    }
    if (!comparable) continue
    for (let i = 0; i < m; i++) {
      difference[i] = rise[finite[i]] === Infinity ? 0 : rise[finite[i]] - other[finite[i]]
    }
    least = Math.min(least, quadraticForm(precision, difference))
  }
  return Math.sqrt(Math.max(0, least))
}

/**
 * Gathers ranked joints into groups, best first. The likeliest joint that is in no group yet opens one; others
 * join it when `closestDifference` is below one standard deviation. O(groups × joints × readings²).
 */
export function groupJoints(ranking: Ranking, measurement: Measurement, most: number): readonly JointGroup[] {
  const n = measurement.observations.length
  const models = ranking.levels.map((level) => level.model)
  const free = [...ranking.joints]
  const groups: JointGroup[] = []
  while (free.length > 0 && groups.length < most) {
    const [first] = free.splice(0, 1)
    const { severity, level } = likeliestState(first)
    const { finite } = ranking.levels[level]
    const shift = badJointShift(models, level, first.candidate, severity.addedOhm, n)
    const rise = shift.riseOhm
    const precision = precisionUnder(ranking.levels[level], shift)
    const members = [first]
    for (let i = 0; i < free.length;) {
      const others = free[i].states.map(({ severity: { addedOhm } }) =>
        risesOhm(models[level], free[i].candidate, addedOhm, n),
      )
      if (closestDifference(rise, others, precision, finite) < sameBelow) members.push(...free.splice(i, 1))
      else i++
    }
    const top = members[0].logWeight
    const sum = members.reduce((s, joint) => s + Math.exp(joint.logWeight - top), 0)
    groups.push({ joints: members, logWeight: top + Math.log(sum) })
  }
  return groups.sort((a, b) => b.logWeight - a.logWeight)
}
