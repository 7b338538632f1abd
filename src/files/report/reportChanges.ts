import type { EffectiveEntry } from '../../model/record/effectiveRecord.ts'
import { signaturesOf, signedState } from '../../model/record/signatures.ts'
import type { Entry, OhmOrOver } from '../../model/schema/record.ts'
import type { Site } from '../../model/schema/site.ts'
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

/** Every signature, withdrawn ones too, with what became of it since. */
export function reportSignatures(
  site: Site,
  digestOf: (text: string) => string | null,
): readonly ReportSignature[] {
  return signaturesOf(site.record).map((signature) => {
    const state = signedState(site, signature, digestOf)
    const changes = state.state === 'reopened' || state.state === 'unchecked' ? state.by : []
    const reopenedBy = changes.flatMap((change) => ('by' in change ? [change.by] : []))
    return { signature, state, reopenedBy }
  })
}
