import { discoveryRates } from '../base/falseDiscovery.ts'
import { median } from '../base/orderStatistics.ts'
import { ownScale } from '../base/sharedScale.ts'
import { studentQuantile, studentTail } from '../base/studentT.ts'
import type { ChangedPair, VisitComparison } from '../model/comparison.ts'
import { soundContact } from '../reading/contact.ts'
import type { Measured } from './gather.ts'
import { pairKey } from './groupUp.ts'
import { normalise } from './normalise.ts'
import type { RepairBook } from './repairsBetween.ts'
import { heldRate, medianSd } from './standing.ts'

const mostChanged = 200
/** From so many pairs on their own scatter is what a change is held against; before, clips and digits. */
const fewestForScatter = 6
/** A shift that all pairs share is told from so much on. */
const leastShare = 0.1

interface Twice {
  readonly earlier: Measured
  readonly later: Measured
  readonly x: number
  /** What instruments leave open of x, and with what two pairs of sound clips add. */
  readonly floor: number
  readonly quietFloor: number
}

/** Readings between two pauses. */
const itemsPerSlice = 1024

/** A visit's readings by pair; the latest of each counts. */
type VisitBook = ReadonlyMap<string, Measured>

function* bookVisits(measured: readonly Measured[]): Generator<number, ReadonlyMap<string, VisitBook>> {
  const books = new Map<string, Map<string, Measured>>()
  for (const [k, item] of measured.entries()) {
    if (k % itemsPerSlice === 0) yield 0
    const { visit } = item.reading
    const book = books.get(visit) ?? new Map<string, Measured>()
    books.set(visit, book.set(pairKey(item), item))
  }
  return books
}

/** Both over one floor in ohm: what digits leave of either, and their leads, for two visits are two intervals. */
function twiceOf(earlier: Measured, later: Measured): Twice {
  const floorsOhm = [earlier, later].map(({ floorOhm, offset }) => Math.hypot(floorOhm, offset.sdOhm))
  const floorOhm = Math.max(...floorsOhm)
  const [before, after] = [earlier, later].map(({ readOhm, atLeastOhm, offset, expectedOhm }) =>
    normalise(readOhm ?? atLeastOhm, offset.meanOhm, expectedOhm, floorOhm),
  )
  const floor = Math.hypot(before.floor, after.floor)
  const { reading, expectedOhm } = later
  const clips = reading.method === 'twoWire' ? (Math.SQRT2 * soundContact.sdOhm) / expectedOhm : 0
  return { earlier, later, x: after.x - before.x, floor, quietFloor: Math.hypot(floor, clips) }
}

/**
 * Every visit against the latest one before it that read a pair too: ln of later over earlier, its middle (season, lead,
 * temperature: what all share), and the pairs that changed against that, by Student's t with the scatter of all pairs,
 * at the false-discovery rate. Two infinite values have no ratio and are left out.
 */
export function* visitsCompared(
  measured: readonly Measured[],
  repairs: RepairBook,
): Generator<number, readonly VisitComparison[]> {
  const books = [...(yield* bookVisits(measured))]
  const found: VisitComparison[] = []
  for (let v = books.length - 1; v > 0; v--) {
    const [later, own] = books[v]
    const byEarlier = new Map<number, Twice[]>()
    for (const [key, item] of own) {
      const e = books.slice(0, v).findLastIndex(([, book]) => book.has(key))
      const before = books[e]?.[1].get(key)
      if (!before || (before.readOhm === null && item.readOhm === null)) continue
      const twice = twiceOf(before, item)
      const others = byEarlier.get(e)
      if (others) others.push(twice)
      else byEarlier.set(e, [twice])
    }
    yield 1 - v / books.length
    for (const [e, pairs] of byEarlier) found.push(yield* compareVisits(books[e][0], later, pairs, repairs))
  }
  return found
}

function* compareVisits(
  earlier: string,
  later: string,
  pairs: readonly Twice[],
  repairs: RepairBook,
): Generator<number, VisitComparison> {
  const x = pairs.map((pair) => pair.x)
  const isScattered = pairs.length >= fewestForScatter
  const quiet = median(pairs.map((pair) => pair.quietFloor))
  const { variance, degrees } = isScattered
    ? ownScale(x, median(pairs.map((pair) => pair.floor)) ** 2)
    : { variance: quiet ** 2, degrees: 60 }
  // of few pairs a middle would take the change itself away
  const shift = isScattered ? median(x) : 0
  const sd = Math.sqrt(variance)
  const reach = studentQuantile(0.05, degrees) * sd * (isScattered ? medianSd(x.length) : 0)
  const rates = discoveryRates(x.map((value) => 2 * studentTail(Math.abs(value - shift) / sd, degrees)))
  yield 0
  const own = studentQuantile(0.05, degrees) * sd
  const changed = pairs
    .map((pair, k) => ({ pair, rate: rates[k] }))
    .filter(({ rate, pair }) => rate <= heldRate && Math.abs(Math.expm1(pair.x - shift)) >= leastShare)
    .sort((a, b) => Math.abs(b.pair.x - shift) - Math.abs(a.pair.x - shift))
    .slice(0, mostChanged)
  const written: ChangedPair[] = []
  for (const { pair, rate } of changed) {
    yield written.length / changed.length
    written.push(writeChange(pair, rate, shift, own, repairs))
  }
  return {
    earlier,
    later,
    pairs: pairs.length,
    ratio: Math.exp(shift),
    lowRatio: Math.exp(shift - reach),
    highRatio: Math.exp(shift + reach),
    isClear: isScattered && Math.abs(shift) > reach && Math.abs(Math.expm1(shift)) >= leastShare,
    changed: written,
  }
}

function writeChange(
  { earlier, later, x }: Twice,
  rate: number,
  shift: number,
  reach: number,
  repairs: RepairBook,
): ChangedPair {
  return {
    earlier: earlier.reading.id,
    later: later.reading.id,
    from: later.reading.from.part,
    to: later.reading.to.part,
    ratio: Math.exp(x),
    lowRatio: Math.exp(x - reach),
    highRatio: Math.exp(x + reach),
    isAtLeast: later.readOhm === null,
    rate,
    change: x > shift ? 'higher' : 'lower',
    repairs: repairs.between(later.a, later.b, earlier.atMs, later.atMs),
  }
}
