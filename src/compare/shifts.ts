import { discoveryRates } from '../base/falseDiscovery.ts'
import { median, medianDeviation } from '../base/orderStatistics.ts'
import { studentQuantile, studentTail } from '../base/studentT.ts'
import { madToSd } from '../base/smallGroups.ts'
import type { NamedShift } from '../model/comparison.ts'
import type { Measured } from './gather.ts'
import { medianSd } from './standing.ts'

/** A reading with what is left of it once its group's middle is taken out, in ln. */
export interface Residual {
  readonly of: Measured
  readonly group: number
  readonly left: number
  /** What its instrument leaves open of that. */
  readonly floor: number
}

const fewest = 5
/** A shift of less than so much is no finding, however sure. */
const leastShare = 0.1
const rateOfShifts = 0.01
/** Readings of one row or set-up share joints and clips: their middle scatters by so many times what its count says. */
const sharing = 1.6

type Level = Omit<NamedShift, 'ratio' | 'lowRatio' | 'highRatio' | 'rate'> & {
  readonly shift: number
  readonly reach: number
  readonly chance: number
}

/** All residuals of a visit, with what every level is held against. */
interface Pool {
  readonly all: readonly Residual[]
  /** Readings of each group, by its number. */
  readonly counts: ReadonlyMap<number, number>
  readonly rest: Rest
}

interface Rest {
  readonly middle: number
  readonly spread: number
  readonly count: number
}

function restOf(values: readonly number[]): Rest {
  const middle = median(values)
  return { middle, spread: madToSd * medianDeviation(values, middle), count: values.length }
}

function poolOf(all: readonly Residual[]): Pool {
  const counts = new Map<number, number>()
  for (const { group } of all) counts.set(group, (counts.get(group) ?? 0) + 1)
  return { all, counts, rest: restOf(all.map(({ left }) => left)) }
}

/** A level with less than this share of its groups hardly moves what it is held against. */
const smallShare = 0.1

/**
 * What a level is held against, and those of its readings that count: the rest of the groups that it has a part in. A level
 * that makes up a group alone has nothing to differ from there. For one with a small share of its groups the rest is
 * everything, which is worked out once.
 */
function heldAgainst(
  inside: readonly Residual[],
  { all, counts, rest }: Pool,
): { readonly counted: readonly Residual[]; readonly rest: Rest } | null {
  const own = new Map<number, number>()
  for (const { group } of inside) own.set(group, (own.get(group) ?? 0) + 1)
  const total = [...own.keys()].reduce((sum, group) => sum + (counts.get(group) ?? 0), 0)
  if (inside.length < smallShare * total) return { counted: inside, rest }
  const members = new Set(inside)
  const outside = all.filter((residual) => own.has(residual.group) && !members.has(residual))
  const counted = inside.filter(({ group }) => (own.get(group) ?? 0) < (counts.get(group) ?? 0))
  return counted.length < fewest || outside.length < fewest
    ? null
    : { counted, rest: restOf(outside.map(({ left }) => left)) }
}

/** Middle of the residuals of one level against the rest. Standard error by medians, π/2 times that of means. */
function levelShift(inside: readonly Residual[], pool: Pool) {
  const held = heldAgainst(inside, pool)
  if (!held) return null
  const { counted, rest } = held
  const own = restOf(counted.map(({ left }) => left))
  const shift = own.middle - rest.middle
  // digits alone never make a scatter of nothing
  const floor = median(counted.map((residual) => residual.floor))
  const sd =
    sharing *
    Math.hypot(
      Math.max(own.spread, floor) * medianSd(own.count),
      Math.max(rest.spread, floor) * medianSd(rest.count),
    )
  const degrees = Math.min(own.count, rest.count) - 1
  return {
    readings: own.count,
    shift,
    reach: studentQuantile(0.05, degrees) * sd,
    chance: 2 * studentTail(Math.abs(shift) / sd, degrees),
  }
}

function* levelsBy(
  pool: Pool,
  by: NamedShift['by'],
  levelOf: (m: Measured) => string | null,
  describe: (of: Measured) => Pick<NamedShift, 'level' | 'interval'>,
): Generator<number, readonly Level[]> {
  const levels = new Map<string, Residual[]>()
  for (const residual of pool.all) {
    const key = levelOf(residual.of)
    if (key === null) continue
    const level = levels.get(key)
    if (level) level.push(residual)
    else levels.set(key, [residual])
  }
  const found: Level[] = []
  for (const inside of levels.size < 2 ? [] : levels.values()) {
    if (inside.length < fewest) continue
    yield found.length / levels.size
    const shift = levelShift(inside, pool)
    const [{ of }] = inside
    if (shift) found.push({ by, visit: of.reading.visit, ...describe(of), ...shift })
  }
  return found
}

/** So often residuals are pulled in anew about the line that was found; the slope moves little after the third. */
const rounds = 8

/**
 * Ratio per 10 K of metal temperature: the slope that all groups share, each with a level of its own. Temperatures are taken
 * about their group's mean, so that levels drop out of the slope (Frisch and Waugh 1933); residuals about the line are
 * pulled in to 2.5 of their spread (Huber 1964), and never the temperature's own effect. O(readings · rounds).
 */
function byTemperature(residuals: readonly Residual[]): readonly Level[] {
  const known = residuals.flatMap(({ of, left, group }) =>
    of.reading.metalC === null ? [] : [{ c: of.reading.metalC, left, group }],
  )
  const numbers = known.map(({ group }) => group)
  const groups = new Set(numbers).size
  if (known.length < 2 * fewest || known.length - groups < fewest) return []
  const warmer = aboutGroups(
    known.map(({ c }) => c),
    numbers,
  )
  const sxx = warmer.reduce((sum, c) => sum + c * c, 0)
  if (sxx === 0) return []
  const ys = known.map(({ left }) => left)
  const slopeOf = (values: readonly number[]) => values.reduce((sum, y, k) => sum + warmer[k] * y, 0) / sxx
  let slope = slopeOf(ys)
  let rest: readonly number[] = []
  let free = 1
  for (let round = 0; round < rounds; round++) {
    const beside = aboutGroups(
      ys.map((y, k) => y - slope * warmer[k]),
      numbers,
    )
    const most = 2.5 * restOf(beside).spread
    rest = beside.map((y) => Math.max(-most, Math.min(most, y)))
    free = beside.filter((y) => Math.abs(y) <= most).length / beside.length
    slope += slopeOf(rest)
  }
  const degrees = known.length - groups - 1
  // what is pulled in tells nothing of the slope (Huber 1973)
  const variance = rest.reduce((sum, y) => sum + y * y, 0) / degrees / free ** 2
  const slopeSd = Math.sqrt(Math.max(variance, 1e-30) / sxx)
  return [
    {
      by: 'temperature',
      visit: residuals[0].of.reading.visit,
      level: null,
      interval: -1,
      readings: known.length,
      shift: 10 * slope,
      reach: 10 * studentQuantile(0.05, degrees) * slopeSd,
      chance: 2 * studentTail(Math.abs(slope) / slopeSd, degrees),
    },
  ]
}

/** Values less the mean of their group. */
function aboutGroups(values: readonly number[], groups: readonly number[]): readonly number[] {
  const sums = new Map<number, { sum: number; count: number }>()
  values.forEach((value, k) => {
    const { sum, count } = sums.get(groups[k]) ?? { sum: 0, count: 0 }
    sums.set(groups[k], { sum: sum + value, count: count + 1 })
  })
  return values.map((value, k) => {
    const { sum, count } = sums.get(groups[k])!
    return value - sum / count
  })
}

/** Least-squares line; null where the x do not differ. */
export function fitLine(xs: readonly number[], ys: readonly number[]) {
  const count = xs.length
  const mean = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / count
  const [mx, my] = [mean(xs), mean(ys)]
  let sxx = 0
  let sxy = 0
  xs.forEach((x, k) => {
    sxx += (x - mx) ** 2
    sxy += (x - mx) * (ys[k] - my)
  })
  if (count < 3 || sxx === 0) return null
  const slope = sxy / sxx
  const rest = xs.reduce((sum, x, k) => sum + (ys[k] - my - slope * (x - mx)) ** 2, 0)
  const degrees = count - 2
  return { slope, slopeSd: Math.sqrt(Math.max(rest / degrees, 1e-30) / sxx), degrees }
}

/** What readings of a visit share beside their groups: a nulling interval, a row, the temperature of the metal. */
export function* shiftsOf(
  residuals: readonly Residual[],
  nullingOf: (interval: number) => string | null,
): Generator<number, readonly NamedShift[]> {
  if (residuals.length < 2 * fewest) return []
  const pool = poolOf(residuals)
  yield 0
  const byInterval = yield* levelsBy(
    pool,
    'interval',
    ({ interval }) => (interval < 0 ? null : String(interval)),
    ({ interval }) => ({ level: nullingOf(interval), interval }),
  )
  const byRow = yield* levelsBy(
    pool,
    'row',
    ({ row }) => (row === null ? null : String(row)),
    ({ row }) => ({ level: String(row), interval: -1 }),
  )
  const levels = [...byInterval, ...byRow, ...byTemperature(residuals)]
  const rates = discoveryRates(levels.map(({ chance }) => chance))
  return levels.flatMap((level, k) => {
    const { by, visit, readings, interval, shift, reach } = level
    if (rates[k] > rateOfShifts || Math.abs(Math.expm1(shift)) < leastShare) return []
    const ratios = {
      ratio: Math.exp(shift),
      lowRatio: Math.exp(shift - reach),
      highRatio: Math.exp(shift + reach),
    }
    return [{ by, visit, level: level.level, interval, readings, ...ratios, rate: rates[k] }]
  })
}
