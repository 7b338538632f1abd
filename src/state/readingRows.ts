import { effectiveRecord } from '../model/record/effectiveRecord.ts'
import type { EntryOf } from '../model/schema/record.ts'
import type { Site } from '../model/schema/site.ts'
import { lookOf, type ReadingLook, type ReadingVerdicts } from './readingLook.ts'

/** One reading as the list has it. */
export interface ReadingRow {
  /** Place among the readings of the record, from 1: the number that all sentences use. */
  readonly number: number
  readonly reading: EntryOf<'reading'>
  readonly look: ReadingLook
  /** The entry that took it out of the count; null where it counts. */
  readonly withdrawal: EntryOf<'withdrawal'> | null
  /** The correction that holds, and what was entered first; null where nothing was corrected. */
  readonly corrected: { readonly by: EntryOf<'correction'>; readonly first: EntryOf<'reading'> } | null
}

/** All readings in canonical order, as corrected, withdrawn ones among them. */
export function readingRows(site: Site, verdicts: ReadingVerdicts): readonly ReadingRow[] {
  const rows: ReadingRow[] = []
  for (const { entry, original, corrections, withdrawnBy } of effectiveRecord(site.record)) {
    if (entry.entry !== 'reading') continue
    const by = corrections.at(-1)
    const corrected = by && original.entry === 'reading' ? { by, first: original } : null
    const look = withdrawnBy ? 'setAside' : lookOf(entry.id, verdicts)
    rows.push({ number: rows.length + 1, reading: entry, look, withdrawal: withdrawnBy, corrected })
  }
  return rows
}
