import { effectiveRecord } from '../../model/record/effectiveRecord.ts'
import type { EntryOf } from '../../model/schema/record.ts'
import type { Site } from '../../model/schema/site.ts'

/** The visit of a reading with all that was amended of it; null where the record lacks it. O(entries). */
export function visitOf(site: Site | null, { visit }: EntryOf<'reading'>): EntryOf<'visit'> | null {
  if (!site) return null
  const found = effectiveRecord(site.record).find(({ entry }) => entry.id === visit)?.entry
  return found?.entry === 'visit' ? found : null
}
