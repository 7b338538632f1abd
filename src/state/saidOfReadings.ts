import type { SaidOfReading } from '../files/readings/writeReadings.ts'
import type { ReadingVerdicts } from './readingLook.ts'
import { criterionVerdicts } from '../text/exportText.ts'
import { lookTexts } from '../text/readingLookText.ts'
import type { ReadingRow } from './readingRows.ts'

/** What the answers say of each reading, for the columns of a list. */
export function saidOfReadings(
  rows: readonly ReadingRow[],
  { locate, judge }: ReadingVerdicts,
): ReadonlyMap<string, SaidOfReading> {
  return new Map(
    rows.map(({ reading: { id }, look }) => {
      const located = locate.get(id)
      const expectedOhm =
        located && located.verdict !== 'setAside' && Number.isFinite(located.expectedOhm)
          ? Number(located.expectedOhm.toPrecision(3))
          : null
      const judged = judge.get(id)
      const criterion = judged && judged.verdict !== 'none' ? criterionVerdicts[judged.verdict] : ''
      return [id, { look: lookTexts[look].word, expectedOhm, criterion }]
    }),
  )
}
