import type { EntryOf } from '../model/schema/record.ts'
import { finestStepOhm, formatReadOhm } from './ohms.ts'

type Reading = Pick<EntryOf<'reading'>, 'kit' | 'result'>

/** The finest digit that each instrument showed among readings, in ohm, by the id of the kit; null for nothing but zeros. */
export function shownSteps(readings: Iterable<Reading>): ReadonlyMap<string, number | null> {
  const shown = new Map<string, (number | null)[]>()
  for (const { kit, result } of readings) {
    const ohm = result.form === 'ohm' ? result.ohm : null
    const those = shown.get(kit)
    if (those) those.push(ohm)
    else shown.set(kit, [ohm])
  }
  return new Map([...shown].map(([kit, ohms]) => [kit, finestStepOhm(ohms)]))
}

/** What a reading showed, with one wording wherever it stands: zeros of a meter with steps of 10 mΩ are `below 10 mΩ`. */
export function formatShown({ kit, result }: Reading, steps: ReadonlyMap<string, number | null>): string {
  return result.form === 'ohm'
    ? formatReadOhm(result.ohm, null, steps.get(kit) ?? null)
    : formatReadOhm(null, result.atLeastOhm)
}
