import { electrodeVerdict } from '../../compare/firstVerdict.ts'
import type { JudgedReading } from '../../model/answers.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import type { Criterion } from '../../model/schema/planning.ts'
import type { EntryOf } from '../../model/schema/record.ts'

/**
 * The criterion that the verdict of a reading names: as it was judged, and of an electrode the one whose level counts.
 * Null where none applies, or it is not judged yet.
 */
export function criterionOf(
  { criteria }: Pick<Drawing, 'criteria'>,
  reading: EntryOf<'reading'>,
  judged: JudgedReading | undefined,
): Criterion | null {
  if (reading.method !== 'earthElectrode') return criteria.find(({ id }) => id === judged?.criterion) ?? null
  const verdict = electrodeVerdict({ criteria }, reading.result)
  if (verdict.kind !== 'electrode') return null
  const { levelOhm } = verdict
  return (
    criteria.find(
      ({ quantity, investigateAboveOhm, rejectAboveOhm }) =>
        quantity === 'electrodeToEarth' && [investigateAboveOhm, rejectAboveOhm].includes(levelOhm),
    ) ?? null
  )
}
