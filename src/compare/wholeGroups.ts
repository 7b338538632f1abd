import { median, medianDeviation } from '../base/orderStatistics.ts'
import { madBias, madDegrees, madToSd } from '../base/smallGroups.ts'
import { studentQuantile, studentTail } from '../base/studentT.ts'
import type { WholeGroup } from '../model/comparison.ts'
import { assumptions } from '../reading/assumptions.ts'
import { medianSd, type GroupStanding } from './standing.ts'

/** Told as high from this chance on, for one group among those of a visit (Bonferroni). */
const rate = 0.01
/** And from this ratio on: less is no finding, however sure. */
const leastRatio = 1.25
/** So many other groups of the method are needed to be held against. */
const fewestOthers = 3
/** Groups of different classes differ by more than their scatter: at least so much, standard deviation of the ln. */
const leastBetween = 0.1

/**
 * Whole groups that lie high: where all are bad alike, no reading stands out. The group's middle, held against the
 * middles of the other groups of its method in the visit; with fewer than three of those against the drawing, whose joint
 * kinds may be off by 0.4 in ln and whose clips by as much again.
 */
export function wholeGroups(
  groups: readonly {
    readonly x: Float64Array
    readonly middleFloor: number
    readonly standing: GroupStanding
    readonly lends: string
  }[],
): readonly WholeGroup[] {
  return groups.map((group, k) => {
    const others = groups.flatMap(({ lends, standing }, j) =>
      j !== k && lends === group.lends ? [standing.middle] : [],
    )
    const own = Math.hypot(group.standing.sd * medianSd(group.x.length), group.middleFloor)
    const isAmong = others.length >= fewestOthers
    const reference = isAmong ? median(others) : 0
    const between = isAmong
      ? Math.max(leastBetween, madToSd * madBias(others.length) * medianDeviation(others))
      : Math.SQRT2 * assumptions.kindLevelLnSd
    const degrees = isAmong ? madDegrees(others.length) + group.standing.degrees : 60
    const sd = Math.hypot(own, between, isAmong ? between * medianSd(others.length) : 0)
    const shift = group.standing.middle - reference
    const chance = studentTail(shift / sd, degrees)
    const reach = studentQuantile(0.05, degrees) * sd
    return {
      against: isAmong ? 'groups' : 'drawing',
      ratio: Math.exp(shift),
      lowRatio: Math.exp(shift - reach),
      highRatio: Math.exp(shift + reach),
      chance,
      isHigh: chance < rate / groups.length && Math.exp(shift) >= leastRatio,
    }
  })
}
