import { present } from '../../src/base/assert.ts'
import { randomStream, type RandomStream } from '../../src/base/random.ts'
import { partIndexOf } from '../../src/layout/partIndex.ts'
import { partPositionM } from '../../src/layout/positions.ts'
import { parsePartAddress } from '../../src/model/address.ts'
import type { Plan } from '../../src/model/schema/planning.ts'
import type { PointM } from '../../src/model/schema/primitives.ts'
import type { Entry, EntryOf, Kit, Lead, Spot } from '../../src/model/schema/record.ts'
import { falseLowRate, pace } from './assumedValues.ts'
import { drawContact, drawSoundContact } from './drawContact.ts'
import { drawLeadOffset, type LeadOffset } from './drawLead.ts'
import type { Truth } from './drawTruth.ts'
import { drawUuid, startWatch, type Watch } from './identity.ts'
import { drawInstrument, type Instrument } from './instrument.ts'
import { spotOn } from './spotOn.ts'

type Pair = Plan['pairs'][number]

export interface VisitOrder {
  readonly truth: Truth
  /** Taken in order; neighbouring pairs with the same first point share a set-up. */
  readonly plan: Plan
  readonly kit: Kit
  /** Null for four-wire clips. */
  readonly lead: Lead | null
  readonly random: RandomStream
  readonly about: {
    readonly startsAt: string
    readonly party: readonly string[]
    readonly purpose: string
    readonly weather: string
    readonly ambientC: number
    readonly isolation: string
    readonly inverter: EntryOf<'visit'>['inverter']
    readonly isolators: EntryOf<'visit'>['isolators']
    readonly lockOut: string
  }
  /**
   * `atRate`: poor contacts and false lows come at random. Else sound contacts only, but for those forced
   * by pair id: so many ohms on top, Infinity for none at all.
   */
  readonly contacts: 'atRate' | ReadonlyMap<number, number>
  /** Pairs that are read again at once, the clips seated afresh. */
  readonly repeatAfterReseating?: ReadonlySet<number>
  /** Set-ups, by their first point, at which nulling was forgotten. */
  readonly notNulledAt?: ReadonlySet<string>
  /** What is noted with the reading of a pair. */
  readonly readingNotes?: ReadonlyMap<number, string>
  /** Notes of their own, after the reading of a pair. */
  readonly notesAfter?: ReadonlyMap<number, { readonly about: string | null; readonly text: string }>
}

interface Day {
  readonly order: VisitOrder
  readonly ids: RandomStream
  readonly instrument: Instrument
  readonly watch: Watch
  readonly record: Entry[]
  readonly visit: string
  readonly device: string
  at: PointM
  offset: LeadOffset
  offsetSinceHours: number
}

/** The entries that one working party writes in a day: visit, and per set-up nulling, volts check, readings. */
export function takeVisit(order: VisitOrder): Entry[] {
  const { plan, kit, lead, random, about } = order
  const ids = randomStream(random.bits())
  const instrument = drawInstrument(kit, random)
  const watch = startWatch(about.startsAt)
  const visit = drawUuid(ids)
  const device = drawUuid(ids)
  const opened: Entry = {
    id: visit,
    device,
    counter: 0,
    at: watch.now(),
    entry: 'visit',
    party: about.party,
    purpose: about.purpose,
    kits: [kit],
    leads: lead ? [lead] : [],
    weather: about.weather,
    ambientC: about.ambientC,
    isolation: about.isolation,
    inverter: about.inverter,
    isolators: about.isolators,
    lockOut: about.lockOut,
  }
  const day: Day = {
    order,
    ids,
    instrument,
    watch,
    record: [opened],
    visit,
    device,
    at: positionOf(order.truth, plan.pairs[0].from),
    offset: drawLeadOffset(lead, about.ambientC, false, random),
    offsetSinceHours: 0,
  }
  plan.pairs.forEach((pair, k) => {
    if (plan.pairs[k - 1]?.from !== pair.from) setUp(day, pair)
    takePair(day, pair)
  })
  return day.record
}

function identity({ ids, device, record, watch, visit }: Day) {
  return { id: drawUuid(ids), device, counter: record.length, at: watch.now(), visit }
}

function walkTo(day: Day, address: string): void {
  const to = positionOf(day.order.truth, address)
  day.watch.passS(Math.hypot(to.x - day.at.x, to.y - day.at.y) / pace.walkMPerS)
  day.at = to
}

function setUp(day: Day, { from, to }: Pair): void {
  const { kit, lead, random, about, notNulledAt } = day.order
  walkTo(day, from)
  day.watch.passS(pace.moveReferenceS)
  const isNulled = lead !== null && notNulledAt?.has(from) !== true
  if (isNulled) {
    // Copper in the sun follows the morning: a kelvin or so in the hour.
    const leadC = Math.round(about.ambientC + 1.5 * day.watch.hours())
    day.offset = drawLeadOffset(lead, leadC, true, random)
    day.offsetSinceHours = day.watch.hours()
    day.watch.passS(pace.nullingS)
    day.record.push({ ...identity(day), entry: 'nulling', kit: kit.id, lead: lead.id, leadC, note: '' })
  }
  day.watch.passS(pace.voltsS)
  const directV = Math.round(30 * random.uniform()) / 1000
  const alternatingV = Math.round(40 * random.uniform()) / 100
  // a little more to earth than between the clips, as parts that hang together show it
  const toEarth = {
    directV: Math.round(1500 * directV) / 1000,
    alternatingV: Math.round(150 * alternatingV) / 100,
  }
  day.record.push({ ...identity(day), entry: 'volts', from, to, directV, alternatingV, toEarth })
}

function takePair(day: Day, pair: Pair): void {
  const { contacts, random, kit, truth, repeatAfterReseating, readingNotes, notesAfter } = day.order
  const spots = [spotOn(pair.from), spotOn(pair.to)] as const
  const soundOhm = truth.trueResistance(pair.from, pair.to)
  const isTwoWire = kit.method === 'twoWire'
  walkTo(day, pair.to)
  day.watch.passS(pace.sameReferenceS)
  const read = (contactOhm: number, networkOhm: number) =>
    day.instrument.read(
      networkOhm + contactOhm + (isTwoWire ? day.offset(day.watch.hours() - day.offsetSinceHours) : 0),
    )
  const forced = contacts === 'atRate' ? 0 : (contacts.get(pair.id) ?? 0)
  const isFalseLow = contacts === 'atRate' && random.uniform() < falseLowRate
  const contactOhm =
    contacts === 'atRate'
      ? drawContact(kit.method, spots, false, random)
      : (isTwoWire ? drawSoundContact(random) : 0) + forced
  const result = read(contactOhm, isFalseLow ? 0 : soundOhm)
  const first = writeReading(day, pair, spots, result, null, readingNotes?.get(pair.id) ?? '')
  if (repeatAfterReseating?.has(pair.id)) {
    day.watch.passS(pace.reseatingS)
    const again =
      contacts === 'atRate'
        ? drawContact(kit.method, spots, true, random)
        : isTwoWire
          ? drawSoundContact(random)
          : 0
    const note = 'Edge filed bright, clip seated again.'
    writeReading(day, pair, spots, read(again, soundOhm), first.id, note)
  }
  const after = notesAfter?.get(pair.id)
  if (!after) return
  day.watch.passS(pace.voltsS)
  day.record.push({ ...identity(day), entry: 'note', ...after })
}

function writeReading(
  day: Day,
  pair: Pair,
  [from, to]: readonly [Spot, Spot],
  result: EntryOf<'reading'>['result'],
  repeats: string | null,
  note: string,
): EntryOf<'reading'> {
  const { kit, lead, plan } = day.order
  const reading: EntryOf<'reading'> = {
    ...identity(day),
    entry: 'reading',
    method: kit.method,
    kit: kit.id,
    lead: lead?.id ?? null,
    from,
    to,
    around: null,
    result,
    reverseOhm: null,
    unsteady: null,
    testCurrentA: kit.testCurrentA,
    metalC: null,
    trackerDeg: null,
    repeats,
    plan: plan.id,
    planPair: pair.id,
    trying: null,
    spikesM: null,
    photos: [],
    note,
  }
  day.record.push(reading)
  return reading
}

function positionOf({ network: { index } }: Truth, address: string): PointM {
  const part = partIndexOf(index, present(parsePartAddress(address), `${address} is no part address`))
  return present(partPositionM(index, part), `${address} has no place`)
}
