import type { Entry, EntryOf, Kit, Lead } from '../model/schema/record.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import { writePartAddress } from '../model/address.ts'
import { drillEntry } from '../model/drillEntry.ts'
import { seatingOf, type Drill, type TakenReading } from './drill.ts'

const device = drillEntry(0, 0)
const visit = drillEntry(1, 0)
/** When the first reading began: a day like another, since a drill goes by minutes of its own. */
const beganMs = Date.UTC(2000, 0, 1)

const surface = { spot: 'unknown', surface: 'pierced' } as const

/**
 * The readings of a drill as entries of a record, so that they can be ranked like any others: a visit, nullings, readings.
 * Of a seating the last reading stands, since clips that were left alone add the same again; what was rightly called
 * a bad test is left out. Nothing of the hidden joint is in it. O(readings).
 */
export function drillRecord(drill: Drill): readonly Entry[] {
  const { kit, lead, readings, called } = drill
  const bad = new Set(
    called.flatMap((each) => (each.call === 'badTest' && each.isRight ? [each.reading] : [])),
  )
  const entries: Entry[] = [openedVisit(kit, lead)]
  const last = new Map(readings.map((_, k) => [seatingOf(drill, k + 1), k] as const))
  let nullings = 0
  let minutes = 0
  let before: EntryOf<'reading'> | null = null
  for (const [k, taken] of readings.entries()) {
    minutes += taken.minutes
    if (taken.nullings > nullings && lead)
      entries.push(nulledLeads(kit, lead, taken.nullings, minutes - taken.minutes))
    nullings = taken.nullings
    const seating = seatingOf(drill, k + 1)
    if (last.get(seating) !== k || bad.has(seating)) continue
    const reading = readingEntry(drill, taken, k + 1, minutes)
    before = repeatOf(taken, before, reading)
    entries.push(before)
  }
  return entries
}

/** Clips that were seated afresh make a reading repeat the one before, where that still counts. */
function repeatOf(
  { how }: TakenReading,
  before: EntryOf<'reading'> | null,
  reading: EntryOf<'reading'>,
): EntryOf<'reading'> {
  const isSamePair = before?.from.part === reading.from.part && before.to.part === reading.to.part
  return how !== 'new' && before && isSamePair ? { ...reading, repeats: before.id } : reading
}

function stamp(kind: number, number: number, minutes: number) {
  const at = new Date(beganMs + Math.round(60_000 * minutes)).toISOString()
  return { id: drillEntry(kind, number), device, counter: 0, at }
}

function openedVisit(kit: Kit, lead: Lead | null): EntryOf<'visit'> {
  return {
    ...stamp(1, 0, 0),
    entry: 'visit',
    party: [],
    purpose: '',
    kits: [kit],
    leads: lead ? [lead] : [],
    weather: '',
    ambientC: null,
    inverter: 'unknown',
    isolators: 'unknown',
    lockOut: '',
    isolation: '',
  }
}

function nulledLeads(kit: Kit, lead: Lead, number: number, minutes: number): EntryOf<'nulling'> {
  return {
    ...stamp(2, number, minutes),
    visit,
    entry: 'nulling',
    kit: kit.id,
    lead: lead.id,
    leadC: null,
    note: '',
  }
}

function readingEntry(
  { kit, lead, network }: Drill,
  { a, b, result }: TakenReading,
  number: number,
  minutes: number,
): EntryOf<'reading'> {
  const spot = (part: number) => ({ part: writePartAddress(partAddressAt(network.index, part)), ...surface })
  return {
    ...stamp(3, number, minutes),
    visit,
    entry: 'reading',
    method: kit.method,
    kit: kit.id,
    lead: kit.method === 'twoWire' ? (lead?.id ?? null) : null,
    from: spot(a),
    to: spot(b),
    around: null,
    result,
    reverseOhm: null,
    unsteady: null,
    testCurrentA: null,
    metalC: null,
    trackerDeg: null,
    repeats: null,
    trying: null,
    spikesM: null,
    plan: null,
    planPair: null,
    photos: [],
    note: '',
  }
}
