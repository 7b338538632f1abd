import { countedEntries } from '../record/effectiveRecord.ts'
import type { Entry, EntryOf, OhmOrOver } from '../schema/record.ts'

export type Trying = NonNullable<EntryOf<'reading'>['trying']>
/** `shorted`: the leads read with their far ends shorted, which tells a broken lead from a broken joint. */
export type Check = Trying | 'shorted'

export interface ChecksDone {
  /** The first reading of the pair and all that repeat it, in the order of the record. */
  readonly tries: readonly EntryOf<'reading'>[]
  readonly done: ReadonlySet<Check>
  /** What the leads read with their far ends shorted, after the first of the tries; null where nobody looked. */
  readonly shorted: OhmOrOver | null
  /** Least and most of the tries, in ohm; null where none showed a value. */
  readonly rangeOhm: { readonly least: number; readonly most: number } | null
  /** How many of the tries were over range. */
  readonly overRange: number
}

/** The reading that a chain of repeats began with. */
function firstOf(readings: ReadonlyMap<string, EntryOf<'reading'>>, id: string): string {
  const seen = new Set<string>()
  let at = id
  for (;;) {
    const before = readings.get(at)?.repeats ?? null
    if (before === null || seen.has(before) || !readings.has(before)) return at
    seen.add(at)
    at = before
  }
}

/**
 * What has been done about a reading since it was taken: which of the checks, and what each try read. The leads count as
 * done when they were read shorted, or nulled anew, with the same instrument and lead after the first of the tries. The
 * number of a withdrawn entry counts nowhere. O(entries).
 */
export function checksDone(record: readonly Entry[], reading: string): ChecksDone {
  const counted = countedEntries(record, 'reading')
  const byId = new Map(counted.map((entry) => [entry.id, entry]))
  const first = firstOf(byId, reading)
  const tries = counted.filter(({ id }) => firstOf(byId, id) === first)
  const done = new Set<Check>(tries.flatMap(({ trying }) => (trying === null ? [] : [trying])))
  const shorted = shortedAfter(record, byId.get(first))
  if (shorted) done.add('shorted')
  const ohms = tries.flatMap(({ result }) => (result.form === 'ohm' ? [result.ohm] : []))
  return {
    tries,
    done,
    shorted,
    rangeOhm: ohms.length === 0 ? null : { least: Math.min(...ohms), most: Math.max(...ohms) },
    overRange: tries.length - ohms.length,
  }
}

function shortedAfter(record: readonly Entry[], first: EntryOf<'reading'> | undefined): OhmOrOver | null {
  if (!first) return null
  const { kit, lead, visit, at } = first
  const last = countedEntries(record, 'leadCheck').findLast(
    (entry) =>
      entry.visit === visit &&
      entry.kit === kit &&
      entry.lead === lead &&
      Date.parse(entry.at) >= Date.parse(at),
  )
  return last?.result ?? null
}

/** The checks of a reading by method, cheapest first; after over range a shorted far end comes before all. */
export function checksFor(method: EntryOf<'reading'>['method'], isOver: boolean): readonly Check[] {
  switch (method) {
    case 'twoWire':
      return isOver ? ['shorted', 'clip', 'lead', 'polarity', 'seat'] : ['clip', 'lead', 'polarity', 'seat']
    case 'fourWire':
      return ['clip', 'polarity', 'seat']
    case 'loopClamp':
    case 'earthElectrode':
      return ['seat']
  }
}
