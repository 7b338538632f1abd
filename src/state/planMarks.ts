import type { SiteIndex } from '../layout/siteIndex.ts'
import type { PlannedPair } from '../model/planning.ts'
import type { Plan } from '../model/schema/planning.ts'
import { partOf, type ReadingMark } from './mapMarks.ts'
import type { Picked } from './picked.ts'

/**
 * A pair of a plan is chosen and pointed at as a reading is, under a name that no entry of the record has: those
 * are UUIDs.
 */
export function pairPick(pair: number): Picked {
  return { kind: 'reading', entry: `pair ${pair}` }
}

/** The number of the pair that is meant; null where something else is. */
export function pickedPair(picked: Picked | null): number | null {
  const found = picked?.kind === 'reading' ? /^pair (\d+)$/.exec(picked.entry) : null
  return found ? Number(found[1]) : null
}

/** Pairs of a proposal as lines of the map, with their places in it; required ones as such. */
export function proposedLines(index: SiteIndex, pairs: readonly PlannedPair[]): readonly ReadingMark[] {
  return pairs.flatMap(({ from, to, required }, k): ReadingMark[] => {
    const a = partOf(index, from)
    const b = partOf(index, to)
    if (a === null || b === null || a === b) return []
    const look = required ? 'required' : 'proposed'
    return [{ entry: `proposed ${k + 1}`, from: a, to: b, look, label: String(k + 1), isPicked: false }]
  })
}

/** Pairs of a plan as lines of the map, with their places in it; those whose ends are not drawn have no place on it. */
export function planLines(
  index: SiteIndex,
  plan: Plan | null,
  picked: Picked | null,
): readonly ReadingMark[] {
  const chosen = pickedPair(picked)
  return (plan?.pairs ?? []).flatMap(({ id, from, to, required }, k): ReadingMark[] => {
    const a = partOf(index, from)
    const b = partOf(index, to)
    if (a === null || b === null || a === b) return []
    const look = required ? 'required' : 'planned'
    return [{ entry: `pair ${id}`, from: a, to: b, look, label: String(k + 1), isPicked: chosen === id }]
  })
}
