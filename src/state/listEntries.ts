import type { PlannedReading } from '../files/readings/planReadings.ts'
import type { ReadingTarget } from '../files/readings/readingChoices.ts'
import { effectiveRecord } from '../model/record/effectiveRecord.ts'
import type { Entry, EntryOf } from '../model/schema/record.ts'
import type { Site } from '../model/schema/site.ts'
import {
  fromListNote,
  listInNote,
  listPurpose,
  listWithdrawalReason,
  rejectedNote,
} from '../text/readingListText.ts'
import { nextStamp, openedVisit } from './entries.ts'
import type { Identity } from './identity.ts'

type Stamps = (at: string | null) => Pick<Entry, 'id' | 'device' | 'counter' | 'at'>

/** Stamps that follow one another: the record is counted through once, however many entries there are. */
function stampsFor(site: Site, identity: Identity): Stamps {
  const first = nextStamp(site, identity)
  let counter = first.counter
  return (at) => ({ id: identity.newId(), device: identity.device, counter: counter++, at: at ?? first.at })
}

export interface ListToRecord {
  readonly readings: readonly PlannedReading[]
  readonly target: ReadingTarget
  /** As notes have it: of `listName`. */
  readonly list: string
  /** Lines that were left out, for a note; null where none is kept. */
  readonly leftOut: readonly string[] | null
  /** Who usually measures with this device: named in a visit that is opened for the list. */
  readonly party?: readonly string[]
}

/**
 * Entries for a list of readings: a visit where one is opened for it, nullings that the list tells of, the readings, and a
 * note of what was left out. Readings have the times of the list, or this moment. A visit that is opened is as old as
 * its first reading, so that what is measured today does not go into it.
 */
export function listEntries(
  site: Site,
  identity: Identity,
  { readings, target, list, leftOut, party = [] }: ListToRecord,
): readonly Entry[] {
  const stamp = stampsFor(site, identity)
  const entries: Entry[] = []
  const times = readings.flatMap(({ at }) => (at === null ? [] : [at]))
  const earliest = times.reduce<string | null>(
    (first, at) => (first === null || Date.parse(at) < Date.parse(first) ? at : first),
    null,
  )
  let visit = target.visit
  if (visit === null) {
    const opened = openedVisit(site, identity, ...usedOf(target, readings), party)
    visit = { ...opened, ...stamp(earliest), purpose: listPurpose(list) }
    entries.push(visit)
  }
  const idOfLine = new Map<number, string>()
  for (const read of readings) {
    if (read.nullsBefore && read.lead !== null) {
      const nulled = {
        ...stamp(read.at),
        entry: 'nulling',
        visit: visit.id,
        kit: read.kit.id,
        lead: read.lead,
      } as const
      entries.push({ ...nulled, leadC: null, note: fromListNote('', list, read.line) })
    }
    const entry = readingOf(read, visit.id, list, stamp(read.at), idOfLine)
    idOfLine.set(read.line, entry.id)
    entries.push(entry)
  }
  if (leftOut !== null && leftOut.length > 0) {
    const text = rejectedNote(list, leftOut)
    entries.push({ ...stamp(null), entry: 'note', visit: visit.id, about: null, text })
  }
  return entries
}

/** What the list was read with: a visit that it opens has nothing else. */
function usedOf(
  { kits, leads }: ReadingTarget,
  readings: readonly PlannedReading[],
): readonly [ReadingTarget['kits'], ReadingTarget['leads']] {
  const usedKits = new Set(readings.map(({ kit }) => kit.id))
  const usedLeads = new Set(readings.map(({ lead }) => lead))
  return [kits.filter(({ id }) => usedKits.has(id)), leads.filter(({ id }) => usedLeads.has(id))]
}

function readingOf(
  read: PlannedReading,
  visit: string,
  list: string,
  stamp: ReturnType<Stamps>,
  idOfLine: ReadonlyMap<number, string>,
): EntryOf<'reading'> {
  const { repeatOf, kit, lead, method, from, to, around, result, reverseOhm, unsteady } = read
  const { testCurrentA, metalC, trackerDeg, spikesM } = read
  const repeats =
    repeatOf === null ? null : 'entry' in repeatOf ? repeatOf.entry : (idOfLine.get(repeatOf.line) ?? null)
  return {
    ...stamp,
    entry: 'reading',
    visit,
    method,
    kit: kit.id,
    lead,
    from,
    to,
    around,
    result,
    reverseOhm,
    unsteady,
    testCurrentA,
    metalC,
    trackerDeg,
    repeats,
    trying: null,
    spikesM,
    plan: null,
    planPair: null,
    photos: [],
    note: fromListNote(listInNote(read.note)?.own ?? read.note, list, read.line),
  }
}

/** A list that was recorded, by the notes of its readings. */
export interface RecordedList {
  readonly list: string
  readonly visit: string
  /** Readings that count, in canonical order. */
  readonly counted: readonly EntryOf<'reading'>[]
  /** Nullings that came with it and count. */
  readonly nullings: readonly EntryOf<'nulling'>[]
  readonly withdrawn: number
}

const known = new WeakMap<readonly Entry[], readonly RecordedList[]>()

/** The lists in a record, the latest first. O(record), once for each record. */
export function recordedLists(record: readonly Entry[]): readonly RecordedList[] {
  let lists = known.get(record)
  if (lists === undefined) {
    lists = findLists(record)
    known.set(record, lists)
  }
  return lists
}

function findLists(record: readonly Entry[]): readonly RecordedList[] {
  interface Found {
    list: string
    visit: string
    counted: EntryOf<'reading'>[]
    nullings: EntryOf<'nulling'>[]
    withdrawn: number
  }
  const lists = new Map<string, Found>()
  for (const { entry, withdrawnBy } of effectiveRecord(record)) {
    if (entry.entry !== 'reading' && entry.entry !== 'nulling') continue
    const said = listInNote(entry.note)
    if (said === null) continue
    const key = `${entry.visit} ${said.list}`
    const found = lists.get(key) ?? {
      list: said.list,
      visit: entry.visit,
      counted: [],
      nullings: [],
      withdrawn: 0,
    }
    lists.set(key, found)
    if (entry.entry === 'nulling') {
      if (!withdrawnBy) found.nullings.push(entry)
    } else if (withdrawnBy) found.withdrawn++
    else found.counted.push(entry)
  }
  return [...lists.values()].filter(({ counted, withdrawn }) => counted.length + withdrawn > 0).reverse()
}

/** What takes a whole list out of the count: its readings, and the nullings that came with it. */
export function listWithdrawals(
  site: Site,
  identity: Identity,
  { list, counted, nullings }: RecordedList,
): readonly EntryOf<'withdrawal'>[] {
  const stamp = stampsFor(site, identity)
  const reason = listWithdrawalReason(list)
  return [...counted, ...nullings].map(({ id, visit }) => ({
    ...stamp(null),
    entry: 'withdrawal',
    visit,
    of: id,
    reason,
  }))
}
