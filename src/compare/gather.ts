import { parsePartAddress, type PartAddress } from '../model/address.ts'
import type { JudgedReading } from '../model/answers.ts'
import type { NotComparedReason, PairClass } from '../model/comparison.ts'
import { effectiveRecord } from '../model/record/effectiveRecord.ts'
import type { Entry, EntryOf, Kit } from '../model/schema/record.ts'
import type { Site } from '../model/schema/site.ts'
import { partIndexOf } from '../layout/partIndex.ts'
import { pairResistance } from '../network/pairResistance.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { soundContact } from '../reading/contact.ts'
import { bookIntervals, kitOf, type NullingInterval } from '../reading/nulling.ts'
import { shownOhm } from '../reading/shownOhm.ts'
import { judgeReading } from './judgeReading.ts'
import { offsetOf, type Offset, type ShortedRead } from './offsets.ts'
import { classKey, pairClassOf } from './pairClass.ts'

/** A reading that can be compared. */
export interface Measured {
  readonly reading: EntryOf<'reading'>
  readonly atMs: number
  readonly kit: Kit
  readonly a: number
  readonly b: number
  readonly pairs: PairClass
  readonly key: string
  /** Number of its row where both ends lie in it or one end lies at a bar; null else. */
  readonly row: number | null
  readonly interval: number
  readonly readOhm: number | null
  readonly atLeastOhm: number
  readonly networkOhm: number
  readonly expectedOhm: number
  readonly offset: Offset
  /** What its digits and its own unsteadiness leave open, in ohm. */
  readonly floorOhm: number
  readonly judged: JudgedReading
}

export interface Gathered {
  readonly measured: readonly Measured[]
  readonly intervals: readonly NullingInterval[]
  /** Leads shorted and read, by number of the interval. */
  readonly shorted: ReadonlyMap<number, readonly ShortedRead[]>
  readonly visits: ReadonlyMap<string, EntryOf<'visit'>>
  readonly repairs: readonly EntryOf<'repair'>[]
  readonly notCompared: readonly { readonly entry: string; readonly reason: NotComparedReason }[]
}

/** Readings between two pauses: a pair's ohms on a large site take some ten microseconds. */
const readingsPerSlice = 32

type Reading = EntryOf<'reading'>
interface Ends {
  readonly from: PartAddress
  readonly to: PartAddress
  readonly a: number
  readonly b: number
}

function endsOf(prepared: PreparedNetwork, reading: Reading): Ends | NotComparedReason {
  if (reading.method !== 'twoWire' && reading.method !== 'fourWire') return 'otherMethod'
  const { index, metal } = prepared.network
  const from = parsePartAddress(reading.from.part)
  const to = parsePartAddress(reading.to.part)
  if (!from || !to) return 'noSuchPart'
  const a = partIndexOf(index, from)
  const b = partIndexOf(index, to)
  if (a < 0 || b < 0) return 'noSuchPart'
  if (a === b) return 'samePart'
  return metal.islands.of[a] === metal.islands.of[b] ? { from, to, a, b } : 'noMetalPath'
}

function rowOf({ from, to }: Ends, { earthBar }: PairClass): number | null {
  const one = from.at === 'table' ? from.row : null
  const other = to.at === 'table' ? to.row : null
  if (one !== null && other !== null) return one === other ? one : null
  return earthBar === null ? null : (one ?? other)
}

/** What two sound clips add on average; nothing with four wires. */
function contactOhm(method: Reading['method']): number {
  return method === 'twoWire' ? soundContact.meanOhm : 0
}

/**
 * Every reading with what it is held against, or why it is not compared. A reading counts as the record stands: as
 * corrected, in its own visit, with its own lead's offset, at its own moment. O(readings · columns on two paths).
 */
export function* gather(site: Site, prepared: PreparedNetwork): Generator<number, Gathered> {
  const record = effectiveRecord(site.record)
  yield 0
  const live: Entry[] = record.filter(({ withdrawnBy }) => !withdrawnBy).map(({ entry }) => entry)
  const book = bookIntervals(live, site.drawing.facts.ambientC)
  yield 0
  const visits = new Map<string, EntryOf<'visit'>>()
  const repairs: EntryOf<'repair'>[] = []
  const shorted = new Map<number, ShortedRead[]>()
  for (const entry of live) {
    if (entry.entry === 'visit') visits.set(entry.id, entry)
    if (entry.entry === 'repair') repairs.push(entry)
    if (entry.entry !== 'leadCheck' || entry.result.form !== 'ohm') continue
    const kit = kitOf(visits.get(entry.visit), entry.kit)
    const interval = book.intervalOf(entry.id)
    if (kit) shorted.set(interval, [...(shorted.get(interval) ?? []), { ohm: entry.result.ohm, kit }])
  }
  const offsets = book.intervals.map((interval, k) => offsetOf(interval, shorted.get(k) ?? []))
  const none: Offset = { meanOhm: 0, sdOhm: 0 }
  const measured: Measured[] = []
  const notCompared: { entry: string; reason: NotComparedReason }[] = []
  for (let k = 0; k < record.length; k++) {
    if (k % readingsPerSlice === 0) yield k / record.length
    const { entry, withdrawnBy } = record[k]
    if (entry.entry !== 'reading') continue
    const reason = withdrawnBy ? 'withdrawn' : null
    const kit = kitOf(visits.get(entry.visit), entry.kit)
    const ends = endsOf(prepared, entry)
    const pairs =
      typeof ends === 'string' ? null : pairClassOf(site.drawing, entry.method, ends.from, ends.to)
    if (reason || typeof ends === 'string' || !kit || !pairs) {
      const why = reason ?? (typeof ends === 'string' ? ends : !kit ? 'unknownKit' : 'otherMethod')
      notCompared.push({ entry: entry.id, reason: why })
      continue
    }
    const shown = shownOhm(entry, kit)
    const interval = book.intervalOf(entry.id)
    const offset = interval < 0 ? none : offsets[interval]
    const networkOhm = pairResistance(prepared.solver.factor, ends.a, ends.b)
    const expectedOhm = networkOhm + contactOhm(entry.method)
    const atLeastOhm = entry.result.form === 'over' ? entry.result.atLeastOhm : 0
    measured.push({
      reading: entry,
      atMs: Date.parse(entry.at),
      kit,
      a: ends.a,
      b: ends.b,
      pairs,
      key: classKey(pairs),
      row: rowOf(ends, pairs),
      interval,
      readOhm: shown.ohm,
      atLeastOhm,
      networkOhm,
      expectedOhm,
      offset,
      floorOhm: Math.hypot(shown.digitsSdOhm, shown.extraSdOhm),
      judged: judgeReading(prepared, entry),
    })
  }
  return { measured, intervals: book.intervals, shorted, visits, repairs, notCompared }
}
