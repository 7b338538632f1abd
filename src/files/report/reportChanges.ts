import { countedEntries, effectiveRecord, type EffectiveEntry } from '../../model/record/effectiveRecord.ts'
import type { Entry, OhmOrOver } from '../../model/schema/record.ts'
import type { ReportChange, ReportSignature } from './reportTypes.ts'

const resultOf = (entry: Entry | undefined): OhmOrOver | null =>
  entry?.entry === 'reading' || entry?.entry === 'leadCheck' ? entry.result : null

/** Every correction and withdrawal, those that were taken back too: nothing of the record is hidden. */
export function changesOf(
  effective: readonly EffectiveEntry[],
  numbers: ReadonlyMap<string, number>,
): readonly ReportChange[] {
  const originals = new Map(effective.map(({ original }) => [original.id, original]))
  return effective.flatMap(({ entry, withdrawnBy }): ReportChange[] => {
    if (entry.entry !== 'correction' && entry.entry !== 'withdrawal') return []
    const target = originals.get(entry.of)
    const isReading = target?.entry === 'reading'
    const moved = entry.entry === 'correction' && isReading ? entry : null
    return [
      {
        entry,
        number: numbers.get(entry.of) ?? null,
        ofSort: target?.entry ?? '',
        first: resultOf(target),
        now: entry.entry === 'correction' ? entry.result : null,
        movedFrom: moved?.from ?? null,
        movedTo: moved?.to ?? null,
        isTakenBack: withdrawnBy !== null,
      },
    ]
  })
}

/** The signatures that count, with what came to their visit without being named in them. */
export function signaturesOf(record: readonly Entry[]): readonly ReportSignature[] {
  const effective = effectiveRecord(record)
  const known = new Set(record.map(({ id }) => id))
  return countedEntries(record, 'signature').map((signature) => {
    const named = new Set(signature.entries)
    // one that stands for a single point of a plan says nothing of the rest of its visit
    const isOfVisit = signature.planPair === null
    const addedAfter = effective.flatMap(({ entry }) =>
      isOfVisit &&
      entry.entry !== 'visit' &&
      entry.entry !== 'signature' &&
      entry.visit === signature.visit &&
      !named.has(entry.id)
        ? [entry.id]
        : [],
    )
    return { signature, addedAfter, missing: signature.entries.filter((id) => !known.has(id)).length }
  })
}
