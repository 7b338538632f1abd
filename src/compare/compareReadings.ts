import { median } from '../base/orderStatistics.ts'
import { portion } from '../base/portion.ts'
import { fewestInGroup } from '../base/smallGroups.ts'
import type {
  ComparedReading,
  ComparisonAnswer,
  ComparisonGroup,
  LevelSpan,
  NamedShift,
} from '../model/comparison.ts'
import { changesJoint } from '../model/record/changesJoint.ts'
import type { Site } from '../model/schema/site.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { gather, type Gathered, type Measured } from './gather.ts'
import { groupUp, type Group } from './groupUp.ts'
import { leadFindings } from './leadFindings.ts'
import { normaliseGroup, type NormalisedGroup } from './normalise.ts'
import { repairBook, type RepairBook } from './repairsBetween.ts'
import { shiftsOf, type Residual } from './shifts.ts'
import { falseDiscoveryRate, reachesOf, standingOf, type GroupStanding } from './standing.ts'
import { visitsCompared } from './visitsCompared.ts'
import { wholeGroups } from './wholeGroups.ts'

type Answer = Omit<ComparisonAnswer, 'basis'>

/**
 * Readings against readings that should be alike (docs/comparison.md): groups per visit, how each reading stands in its
 * own, what readings share beside their groups, what leads look like, and visits against earlier ones. Yields the fraction
 * done, every few milliseconds on a site of any size. O(readings · columns on two paths + shifts · readings).
 */
export function* compareReadings(site: Site, prepared: PreparedNetwork): Generator<number, Answer> {
  const gathered = yield* portion(gather(site, prepared), 0, 0.6)
  const { groups, readAgain, tooFew } = yield* portion(groupUp(gathered.measured), 0.6, 0.05)
  const repairs = repairBook(prepared, gathered.repairs)
  // what was read before a temporary bond was not read of another joint
  const changing = repairBook(prepared, gathered.repairs.filter(changesJoint))
  const written: ComparisonGroup[] = []
  const shifts: NamedShift[] = []
  const visits = [...new Set(groups.map(({ visit }) => visit))].reverse()
  for (const [k, visit] of visits.entries()) {
    const of = groups.filter((group) => group.visit === visit)
    const share = 0.25 / visits.length
    const compared = yield* portion(compareVisit(of, gathered, changing), 0.65 + k * share, share)
    written.push(...compared.groups)
    shifts.push(...compared.shifts)
  }
  const leads = yield* portion(leadFindings(gathered), 0.9, 0.02)
  return {
    falseDiscoveryRate,
    fewestPeers: fewestInGroup,
    groups: written,
    shifts,
    leads,
    visits: yield* portion(visitsCompared(gathered.measured, repairs), 0.92, 0.08),
    notCompared: [
      ...gathered.notCompared,
      ...readAgain.map(({ reading }) => ({ entry: reading.id, reason: 'readAgain' as const })),
      ...tooFew.map(({ reading }) => ({ entry: reading.id, reason: 'tooFewPeers' as const })),
    ],
  }
}

function* compareVisit(
  groups: readonly Group[],
  { intervals }: Gathered,
  repairs: RepairBook,
): Generator<number, Pick<Answer, 'groups' | 'shifts'>> {
  const numbered = groups.map(({ members }) => ({
    ...normaliseGroup(members),
    lends: members[0].pairs.method,
  }))
  yield 0
  const standings = yield* portion(standingOf(numbered), 0, 0.4)
  const wholes = wholeGroups(standings.map((standing, k) => ({ standing, ...numbered[k] })))
  yield 0.4
  const residuals: Residual[] = []
  const written: ComparisonGroup[] = []
  for (const [k, group] of groups.entries()) {
    yield 0.4 + (0.2 * k) / groups.length
    const { x, floor } = numbered[k]
    for (const [m, of] of group.members.entries()) {
      if (m % readingsPerSlice === readingsPerSlice - 1) yield 0.4
      residuals.push({ of, group: k, left: x[m] - standings[k].middle, floor: floor[m] })
    }
    const one = yield* writeGroup(group, numbered[k], standings[k], repairs)
    written.push({ ...one, whole: one.isAtFloor ? null : wholes[k] })
  }
  const shifts = yield* portion(
    shiftsOf(residuals, (interval) => intervals[interval].entry),
    0.6,
    0.4,
  )
  return { groups: written.sort((a, b) => weightOf(b) - weightOf(a)), shifts }
}

/** Groups to be looked at first: with readings that stand out, then those that are high as a whole. */
function weightOf({ readings, whole }: ComparisonGroup): number {
  const most = readings.reduce(
    (weight, { standing }) => Math.max(weight, standing === 'high' ? 3 : standing === 'watch' ? 1 : 0),
    0,
  )
  return Math.max(most, whole?.isHigh ? 2 : 0)
}

/** Where the middle of a group is less than some four floors, ratios say what the instrument can tell, not what is there. */
const floorShare = 0.22

function spanOf(levels: readonly (number | null)[]): LevelSpan | null {
  let lowOhm = Infinity
  let highOhm = -Infinity
  for (const level of levels) {
    if (level === null) return null
    lowOhm = Math.min(lowOhm, level)
    highOhm = Math.max(highOhm, level)
  }
  return { lowOhm, highOhm }
}

/** Readings between two pauses. */
const readingsPerSlice = 512

function* writeGroup(
  { id, visit, members }: Group,
  { x, floor }: NormalisedGroup,
  standing: GroupStanding,
  repairs: RepairBook,
): Generator<number, Omit<ComparisonGroup, 'whole'>> {
  const readings: ComparedReading[] = []
  const reaches = reachesOf(standing, floor)
  for (const [k, member] of members.entries()) {
    if (k % readingsPerSlice === readingsPerSlice - 1) yield 0
    readings.push(writeReading(member, x[k], reaches[k], k, standing, repairs))
  }
  return {
    id,
    visit,
    pairs: members[0].pairs,
    readings,
    middleOhm: median(members.map(({ readOhm, atLeastOhm }) => readOhm ?? atLeastOhm)),
    middleRatio: Math.exp(standing.middle),
    isAtFloor: median(floor) > floorShare,
    lnSd: standing.sd,
    degrees: standing.degrees,
    borrowedDegrees: standing.borrowedDegrees,
    cutoff: standing.cutoff,
    investigate: spanOf(members.map(({ judged }) => judged.investigateOhm)),
    reject: spanOf(members.map(({ judged }) => judged.rejectOhm)),
  }
}

function writeReading(
  { reading, readOhm, atLeastOhm, expectedOhm, judged, a, b, atMs }: Measured,
  x: number,
  reach: number,
  k: number,
  group: GroupStanding,
  repairs: RepairBook,
): ComparedReading {
  const standing = group.standing[k]
  const isOut = standing !== 'alike'
  const shift = x - group.middle
  return {
    entry: reading.id,
    from: reading.from.part,
    to: reading.to.part,
    readOhm,
    atLeastOhm,
    expectedOhm,
    ratio: Math.exp(shift),
    lowRatio: Math.exp(shift - reach),
    highRatio: Math.exp(shift + reach),
    z: group.z[k],
    chance: group.chance[k],
    rate: group.rate[k],
    standing,
    criterion: judged.verdict,
    isEarlySign: isOut && judged.verdict === 'within',
    isBeforeRepair: isOut && repairs.between(a, b, atMs, Infinity).length > 0,
  }
}
