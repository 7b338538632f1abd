import { defaultKits, firstLeads } from '../model/kits.ts'
import { countedEntries } from '../model/record/effectiveRecord.ts'
import type { EntryOf, Kit, Lead } from '../model/schema/record.ts'
import type { Site } from '../model/schema/site.ts'
import { amendedVisit } from '../state/entries.ts'
import { hoursBetween, isSameDay } from '../text/days.ts'

/** For a site on which nobody has opened a visit: the commonest instrument. */
const firstKits: readonly Kit[] = defaultKits.slice(0, 1)

/** Leads that lay in the sun for longer than this have drifted (common practice: null at each change and pause). */
const nullingHolds = 4
/** A visit that goes on past midnight is still the same one while somebody reads. */
const visitPauses = 4

/** What one measures with now. */
export interface MeasuringSetup {
  /** Null where the first reading will open one. */
  readonly visit: EntryOf<'visit'> | null
  /** A visit of another day, whose instruments and leads a new one takes over. */
  readonly earlierVisit: EntryOf<'visit'> | null
  readonly kits: readonly Kit[]
  readonly leads: readonly Lead[]
  readonly kit: Kit | null
  /** Null where the instrument uses none, or the visit has none. */
  readonly lead: Lead | null
  /** The nulling that holds for this instrument and lead; null where there was none in the visit. */
  readonly nulling: EntryOf<'nulling'> | null
  /** The nulling is of the visit, but of hours ago or of another day. */
  readonly isNullingOld: boolean
  /** When these leads were last nulled, in whatever visit. */
  readonly lastNulledAt: string | null
  readonly readingsSinceNulling: number
  /** Readings of the visit with this instrument and lead. */
  readonly readings: number
}

/** Instrument and lead as chosen, else as in the last reading of the visit, else the first that fits. */
export function measuringSetup(
  site: Site,
  chosen: { kit: string | null; lead: string | null },
  now: string,
  usual: { readonly kits: readonly Kit[]; readonly leads: readonly Lead[] } = { kits: [], leads: [] },
): MeasuringSetup {
  const latest = amendedVisit(site)
  const isOver = latest !== null && isVisitOver(site, latest, now)
  const kits = latest?.kits ?? (usual.kits.length > 0 ? usual.kits : firstKits)
  const leads = latest?.leads ?? (usual.leads.length > 0 ? usual.leads : firstLeads)
  const taken = countedEntries(site.record, 'reading').filter((reading) => reading.visit === latest?.id)
  const last = taken.at(-1)
  const kit =
    kits.find(({ id }) => id === chosen.kit) ??
    kits.find(({ id }) => id === last?.kit) ??
    kits.find(({ method }) => method === 'twoWire' || method === 'fourWire') ??
    kits.at(0) ??
    null
  const lead =
    kit?.method !== 'twoWire'
      ? null
      : (leads.find(({ id }) => id === chosen.lead) ??
        leads.find(({ id }) => id === last?.lead) ??
        leads.at(0) ??
        null)
  const nullings = countedEntries(site.record, 'nulling').filter(
    (entry) => entry.kit === kit?.id && entry.lead === lead?.id,
  )
  const lastNulling = nullings.findLast((entry) => entry.visit === latest?.id)
  const nulling = isOver ? null : (lastNulling ?? null)
  const sinceMs = nulling ? Date.parse(nulling.at) : 0
  const isOld = (at: string) => !isSameDay(at, now) || hoursBetween(at, now) > nullingHolds
  const withThese = isOver
    ? []
    : taken.filter((reading) => reading.kit === kit?.id && reading.lead === (lead?.id ?? null))
  return {
    visit: isOver ? null : latest,
    earlierVisit: isOver ? latest : null,
    kits,
    leads,
    kit,
    lead,
    nulling,
    isNullingOld: nulling !== null && isOld(nulling.at),
    lastNulledAt: nullings.at(-1)?.at ?? null,
    readingsSinceNulling: nulling ? taken.filter(({ at }) => Date.parse(at) >= sinceMs).length : 0,
    readings: withThese.length,
  }
}

/** Another day has begun, and nothing was entered in the visit for some hours. */
function isVisitOver(site: Site, visit: EntryOf<'visit'>, now: string): boolean {
  if (isSameDay(visit.at, now)) return false
  return site.record.every(
    (entry) =>
      (entry.id !== visit.id && !('visit' in entry && entry.visit === visit.id)) ||
      hoursBetween(entry.at, now) > visitPauses,
  )
}
