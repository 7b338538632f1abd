import { countedEntries } from '../model/record/effectiveRecord.ts'
import type { Entry, EntryOf, Kit, Lead, OhmOrOver, Spot, VisitFacts } from '../model/schema/record.ts'
import type { Site } from '../model/schema/site.ts'
import type { Identity } from './identity.ts'

type Stamp = Pick<Entry, 'id' | 'device' | 'counter' | 'at'>

/** Identity of the next entry that this device writes in a site. */
export function nextStamp(site: Site, identity: Identity): Stamp {
  let counter = 0
  for (const entry of site.record) {
    if (entry.device === identity.device) counter = Math.max(counter, entry.counter + 1)
  }
  return { id: identity.newId(), device: identity.device, counter, at: identity.now() }
}

/** The visit that was opened last; readings without an own visit go there. */
export function latestVisit(site: Site): EntryOf<'visit'> | null {
  let latest: EntryOf<'visit'> | null = null
  for (const entry of site.record) {
    if (entry.entry !== 'visit') continue
    if (latest === null || Date.parse(entry.at) >= Date.parse(latest.at)) latest = entry
  }
  return latest
}

/** The visit that was opened last, as it was noted last. */
export function amendedVisit(site: Site): EntryOf<'visit'> | null {
  const latest = latestVisit(site)
  if (latest === null) return null
  return countedEntries(site.record, 'visit').find(({ id }) => id === latest.id) ?? latest
}

/** A visit with one instrument and its leads, for a site where none was opened yet. */
export function openedVisit(
  site: Site,
  identity: Identity,
  kits: readonly Kit[],
  leads: readonly Lead[],
  party: readonly string[] = [],
): EntryOf<'visit'> {
  return {
    ...nextStamp(site, identity),
    entry: 'visit',
    party,
    purpose: '',
    kits,
    leads,
    weather: '',
    ambientC: null,
    isolation: '',
    inverter: 'unknown',
    isolators: 'unknown',
    lockOut: '',
  }
}

/** What a person types of a reading. */
export interface TypedReading {
  readonly visit: EntryOf<'visit'>
  readonly kit: Kit
  readonly lead: string | null
  readonly from: Spot
  readonly to: Spot
  readonly result: OhmOrOver
  readonly repeats: string | null
  readonly note: string
  /** What else was noted; what is left out was not. */
  readonly more?: Partial<NotedOfReading>
}

/** What may be noted of a reading besides its pair and its value. */
export type NotedOfReading = Pick<
  EntryOf<'reading'>,
  | 'around'
  | 'reverseOhm'
  | 'unsteady'
  | 'testCurrentA'
  | 'metalC'
  | 'trackerDeg'
  | 'plan'
  | 'planPair'
  | 'trying'
  | 'spikesM'
  | 'photos'
>

export function writtenReading(site: Site, identity: Identity, typed: TypedReading): EntryOf<'reading'> {
  const { visit, kit, lead, from, to, result, repeats, note, more = {} } = typed
  return {
    ...nextStamp(site, identity),
    entry: 'reading',
    visit: visit.id,
    method: kit.method,
    kit: kit.id,
    lead,
    from,
    to,
    around: null,
    result,
    reverseOhm: null,
    unsteady: null,
    testCurrentA: null,
    metalC: null,
    trackerDeg: null,
    repeats,
    plan: null,
    planPair: null,
    trying: null,
    spikesM: null,
    photos: [],
    ...more,
    note,
  }
}

/** The entry that takes a reading or a check of volts out of the count; it stays readable. */
export function withdrawalOf(
  site: Site,
  identity: Identity,
  { id, visit }: EntryOf<'reading' | 'volts'>,
  reason: string,
): EntryOf<'withdrawal'> {
  return { ...nextStamp(site, identity), entry: 'withdrawal', visit, of: id, reason }
}

/** Nulling done now, with an instrument and lead of the visit. */
export function nulledNow(
  site: Site,
  identity: Identity,
  visit: EntryOf<'visit'>,
  kit: string,
  lead: string,
): EntryOf<'nulling'> {
  return { ...nextStamp(site, identity), entry: 'nulling', visit: visit.id, kit, lead, leadC: null, note: '' }
}

/** Volts as read at one moment, DC with its sign and AC. */
export interface Volts {
  readonly directV: number
  readonly alternatingV: number
}

/** Volts between the clips and from the first clip to earth, read now. */
export function voltsNow(
  site: Site,
  identity: Identity,
  visit: EntryOf<'visit'>,
  { from, to }: { readonly from: string; readonly to: string },
  { clips, toEarth }: { readonly clips: Volts; readonly toEarth: Volts },
): EntryOf<'volts'> {
  return { ...nextStamp(site, identity), entry: 'volts', visit: visit.id, from, to, ...clips, toEarth }
}

/** A visit opened now with all that is noted of it. */
export function visitNow(site: Site, identity: Identity, facts: VisitFacts): EntryOf<'visit'> {
  return { ...nextStamp(site, identity), entry: 'visit', ...facts }
}

/** What is noted of a visit from now on. */
export function amendmentNow(
  site: Site,
  identity: Identity,
  visit: EntryOf<'visit'>,
  facts: VisitFacts,
): EntryOf<'amendment'> {
  return { ...nextStamp(site, identity), entry: 'amendment', visit: visit.id, ...facts }
}

/** What leads read that are shorted at their far end. */
export function leadCheckNow(
  site: Site,
  identity: Identity,
  visit: EntryOf<'visit'>,
  { kit, lead, result }: Pick<EntryOf<'leadCheck'>, 'kit' | 'lead' | 'result'>,
): EntryOf<'leadCheck'> {
  return { ...nextStamp(site, identity), entry: 'leadCheck', visit: visit.id, kit, lead, result, note: '' }
}
