import { countedEntries } from '../../model/record/effectiveRecord.ts'
import type { EntryOf } from '../../model/schema/record.ts'
import type { Site } from '../../model/schema/site.ts'

/** After so many readings since nulling or a lead check, a check is asked for (common practice: every round). */
export const readingsBetweenChecks = 20

/** Readings through one lead after its last nulling or check: what the lead has added since, nobody has looked. */
export interface Outstanding {
  readonly kit: string
  readonly lead: string
  /** When the lead was last nulled or checked; of the first reading where it was neither. */
  readonly since: string
  readonly readings: number
}

/** The leads of a visit whose last reading no check follows, in the order of their first use. */
export function outstandingChecks(site: Site, visit: EntryOf<'visit'>): readonly Outstanding[] {
  const of = new Map<string, Outstanding>()
  const all = [
    ...countedEntries(site.record, 'nulling'),
    ...countedEntries(site.record, 'leadCheck'),
    ...countedEntries(site.record, 'reading').filter(({ method }) => method === 'twoWire'),
  ]
    .filter((entry) => entry.visit === visit.id)
    .toSorted((a, b) => Date.parse(a.at) - Date.parse(b.at) || a.counter - b.counter)
  for (const entry of all) {
    if (entry.lead === null) continue
    const key = `${entry.kit} ${entry.lead}`
    const before = of.get(key)
    if (entry.entry !== 'reading')
      of.set(key, { kit: entry.kit, lead: entry.lead, since: entry.at, readings: 0 })
    else if (before) of.set(key, { ...before, readings: before.readings + 1 })
    else of.set(key, { kit: entry.kit, lead: entry.lead, since: entry.at, readings: 1 })
  }
  return [...of.values()].filter(({ readings }) => readings > 0)
}
