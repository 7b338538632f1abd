import { parsePartAddress } from '../model/address.ts'
import type { JudgedReading } from '../model/answers.ts'
import { catalogueRowOf } from '../model/criteriaCatalogue.ts'
import { criterionFor } from '../model/queries/criterionFor.ts'
import { effectiveRecord } from '../model/record/effectiveRecord.ts'
import type { Criterion } from '../model/schema/planning.ts'
import type { Entry, EntryOf, Kit, OhmOrOver } from '../model/schema/record.ts'
import { partIndexOf } from '../layout/partIndex.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { levelsFor, noLevels } from '../reading/criterionLevels.ts'

/**
 * The test current that a criterion asks and the lower one that was used, in amperes; null where enough was used, none is
 * asked, or the ohms lie outside the range in which it is asked. What was used is not known: taken as enough.
 */
export function lowCurrentOf(
  criterion: Criterion | null,
  usedA: number | null,
  result: OhmOrOver,
): JudgedReading['lowCurrent'] {
  const askedA = criterion?.testCurrentA ?? null
  if (!criterion || askedA === null || usedA === null || usedA >= askedA) return null
  const within = catalogueRowOf(criterion)?.currentAskedWithinOhm ?? null
  const ohm = result.form === 'ohm' ? result.ohm : result.atLeastOhm
  return within !== null && (ohm < within.from || ohm > within.to) ? null : { askedA, usedA }
}

/**
 * One reading against the criterion of its pair. Only two-wire and four-wire readings between two parts of the
 * drawing are bonding readings; a loop clamp's or an electrode test's ohms are another quantity. A level is exceeded by
 * more ohms than it has, and by over range. `kit` is the instrument that the reading names, whose current counts where the
 * reading has none of its own.
 */
export function judgeReading(
  prepared: PreparedNetwork,
  reading: EntryOf<'reading'>,
  kit: Kit | null = null,
): JudgedReading {
  const { index } = prepared.network
  const none: JudgedReading = { entry: reading.id, ...noLevels, lowCurrent: null, verdict: 'none' }
  if (reading.method !== 'twoWire' && reading.method !== 'fourWire') return none
  const from = parsePartAddress(reading.from.part)
  const to = parsePartAddress(reading.to.part)
  if (!from || !to) return none
  const a = partIndexOf(index, from)
  const b = partIndexOf(index, to)
  if (a < 0 || b < 0 || a === b) return none
  const criterion = criterionFor(index.drawing, from, to)
  const levels = levelsFor(prepared, criterion, a, b)
  if (levels.criterion === null) return none
  const { result } = reading
  const exceeds = (level: number | null) => level !== null && (result.form === 'over' || result.ohm > level)
  const verdict = exceeds(levels.rejectOhm)
    ? 'reject'
    : exceeds(levels.investigateOhm)
      ? 'investigate'
      : 'within'
  const lowCurrent = lowCurrentOf(criterion, reading.testCurrentA ?? kit?.testCurrentA ?? null, result)
  return { entry: reading.id, ...levels, lowCurrent, verdict }
}

/** Every reading of a record in canonical order, as corrected; one that is withdrawn is held against nothing. */
export function judgeReadings(prepared: PreparedNetwork, record: readonly Entry[]): readonly JudgedReading[] {
  const effective = effectiveRecord(record)
  const kits = new Map(
    effective.flatMap(({ entry }) => (entry.entry === 'visit' ? [[entry.id, entry.kits] as const] : [])),
  )
  return effective.flatMap(({ entry, withdrawnBy }): JudgedReading[] => {
    if (entry.entry !== 'reading') return []
    if (withdrawnBy) return [{ entry: entry.id, ...noLevels, lowCurrent: null, verdict: 'none' }]
    const kit = kits.get(entry.visit)?.find(({ id }) => id === entry.kit) ?? null
    return [judgeReading(prepared, entry, kit)]
  })
}
