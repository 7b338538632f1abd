import { defaultKits } from '../model/kits.ts'
import { countedEntries } from '../model/record/effectiveRecord.ts'
import type { EntryOf, Kit, Lead } from '../model/schema/record.ts'
import type { Site } from '../model/schema/site.ts'
import { latestVisit } from '../state/entries.ts'
import { whyNotForPairs } from '../text/entryText.ts'

/** For a site on which nobody has opened a visit: the commonest instrument and a long lead. */
export const firstKits: readonly Kit[] = defaultKits.slice(0, 1)
export const firstLeads: readonly Lead[] = [
  { id: 'lead-50m', name: 'lead', lengthM: 50, areaMm2: 1.5, material: 'copper' },
]

/** What one measures with now. */
export interface MeasuringSetup {
  /** Null where the first reading will open one. */
  readonly visit: EntryOf<'visit'> | null
  readonly kits: readonly Kit[]
  readonly leads: readonly Lead[]
  readonly kit: Kit | null
  /** Null where the instrument uses none, or the visit has none. */
  readonly lead: Lead | null
  /** The nulling that holds for this instrument and lead; null where there was none in the visit. */
  readonly nulling: EntryOf<'nulling'> | null
  readonly readingsSinceNulling: number
}

/** Instrument and lead as chosen, else as in the last reading of the visit, else the first that fits. */
export function measuringSetup(
  site: Site,
  chosen: { kit: string | null; lead: string | null },
): MeasuringSetup {
  const visit = latestVisit(site)
  const kits = visit?.kits ?? firstKits
  const leads = visit?.leads ?? firstLeads
  const readings = countedEntries(site.record, 'reading').filter((reading) => reading.visit === visit?.id)
  const last = readings.at(-1)
  const fits = kits.filter((kit) => whyNotForPairs(kit) === null)
  const kit =
    fits.find(({ id }) => id === chosen.kit) ?? fits.find(({ id }) => id === last?.kit) ?? fits.at(0) ?? null
  const lead =
    kit?.method !== 'twoWire'
      ? null
      : (leads.find(({ id }) => id === chosen.lead) ??
        leads.find(({ id }) => id === last?.lead) ??
        leads.at(0) ??
        null)
  const nulling =
    countedEntries(site.record, 'nulling').findLast(
      (entry) => entry.visit === visit?.id && entry.kit === kit?.id && entry.lead === lead?.id,
    ) ?? null
  const sinceMs = nulling ? Date.parse(nulling.at) : 0
  const readingsSinceNulling = nulling ? readings.filter(({ at }) => Date.parse(at) > sinceMs).length : 0
  return { visit, kits, leads, kit, lead, nulling, readingsSinceNulling }
}
