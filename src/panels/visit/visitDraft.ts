import { sameContent } from '../../model/sameContent.ts'
import { countedEntries } from '../../model/record/effectiveRecord.ts'
import type { EntryOf, Kit, Lead, VisitFacts } from '../../model/schema/record.ts'
import type { Site } from '../../model/schema/site.ts'
import type { MeasuringSetup } from '../measuringSetup.ts'

/** A lead to begin with. */
export const firstLead: Lead = {
  id: 'lead-50m',
  name: 'lead',
  lengthM: 50,
  areaMm2: 1.5,
  material: 'copper',
}

/** What is noted of a visit, without its identity. */
export function factsOf(visit: EntryOf<'visit'>): VisitFacts {
  const { party, purpose, kits, leads, weather, ambientC, inverter, isolators, lockOut, isolation } = visit
  return { party, purpose, kits, leads, weather, ambientC, inverter, isolators, lockOut, isolation }
}

/**
 * What a form of the visit begins with: the open visit; else a new one filled in from the last, or from what the device
 * used last. Isolation is of its day: it is never taken over.
 */
export function draftOf(
  setup: Pick<MeasuringSetup, 'visit' | 'earlierVisit' | 'kits' | 'leads'>,
  usual: { readonly party: readonly string[] },
): VisitFacts {
  if (setup.visit) return factsOf(setup.visit)
  const { earlierVisit, kits, leads } = setup
  return {
    party: usual.party.length > 0 ? usual.party : (earlierVisit?.party ?? []),
    purpose: earlierVisit?.purpose ?? '',
    kits,
    leads,
    weather: '',
    ambientC: null,
    inverter: 'unknown',
    isolators: 'unknown',
    lockOut: '',
    isolation: '',
  }
}

export function isSame(one: VisitFacts, other: VisitFacts): boolean {
  return sameContent(one, other)
}

/** Ids of instruments and leads that something was measured with in the visit. */
export function usedIn(site: Site, visit: EntryOf<'visit'> | null): ReadonlySet<string> {
  const used = new Set<string>()
  if (!visit) return used
  for (const entry of [
    ...countedEntries(site.record, 'reading'),
    ...countedEntries(site.record, 'nulling'),
    ...countedEntries(site.record, 'leadCheck'),
  ]) {
    if (entry.visit !== visit.id) continue
    used.add(entry.kit)
    if (entry.lead !== null) used.add(entry.lead)
  }
  // an amendment never takes a set off what was said before
  for (const { id } of [...visit.kits, ...visit.leads] as readonly (Kit | Lead)[]) used.add(id)
  return used
}
