import type { ReadingTarget } from '../files/readings/readingChoices.ts'
import type { WallTime } from '../files/readings/readTimes.ts'
import { defaultKits, firstLeads } from '../model/kits.ts'
import { countedEntries } from '../model/record/effectiveRecord.ts'
import type { Site } from '../model/schema/site.ts'
import { formatDay } from '../text/days.ts'
import { readingListTexts, visitLabel } from '../text/readingListText.ts'

/** The choice of a visit that is opened for the list. */
export const newVisit = 'new'

/** Where a list goes: a visit of the record with its instruments, or a new one with those of all visits and of the program. */
export function listTarget(site: Site, chosen: string): ReadingTarget {
  const visits = countedEntries(site.record, 'visit').toReversed()
  const visit = visits.find(({ id }) => id === chosen)
  if (visit) return { visit, kits: visit.kits, leads: visit.leads }
  return {
    visit: null,
    kits: firstOfEach([...visits.flatMap(({ kits }) => kits), ...defaultKits]),
    leads: firstOfEach([...visits.flatMap(({ leads }) => leads), ...(visits.length === 0 ? firstLeads : [])]),
  }
}

function firstOfEach<T extends { readonly id: string }>(all: readonly T[]): readonly T[] {
  return all.filter(({ id }, k) => all.findIndex((one) => one.id === id) === k)
}

/** The visits that a list may go to, the new one first. */
export function targetOptions(
  site: Site,
  now: string,
): readonly { readonly id: string; readonly label: string }[] {
  const counts = new Map<string, number>()
  for (const { visit } of countedEntries(site.record, 'reading'))
    counts.set(visit, (counts.get(visit) ?? 0) + 1)
  const visits = countedEntries(site.record, 'visit').toReversed()
  return [
    { id: newVisit, label: readingListTexts.newVisit },
    ...visits.map(({ id, at, purpose }) => ({
      id,
      label: visitLabel(formatDay(at, now), counts.get(id) ?? 0, purpose),
    })),
  ]
}

/** By the device's clock, with the summer time of that day. */
export function deviceZone({ year, month, day, hour, minute, second }: WallTime): number {
  return -new Date(year, month - 1, day, hour, minute, second).getTimezoneOffset()
}
