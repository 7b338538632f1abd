import type { LotItem } from './lot.ts'

/** Places in the lot of what is due to be tested now, widest last; what was tested or is due in a narrower step is left out. */
export interface Escalation {
  readonly isAccepted: boolean
  readonly tables: readonly number[]
  readonly rows: readonly number[]
  readonly lot: readonly number[]
}

/**
 * What failures ask for: all of the table that a failed item is on; after a second failure on one table all of its row;
 * after more failures among the drawn items than are allowed all of the lot. Failures found by following up count for
 * tables and rows, not against the sample, from which they were not drawn.
 */
export function escalate(
  items: readonly LotItem[],
  drawn: readonly number[],
  failed: readonly number[],
  failuresAllowed: number,
): Escalation {
  const isDrawn = new Set(drawn)
  const ofTable = new Map<string, number>()
  for (const k of failed) ofTable.set(items[k].table, (ofTable.get(items[k].table) ?? 0) + 1)
  const rowsDue = new Set(failed.filter((k) => ofTable.get(items[k].table)! > 1).map((k) => items[k].row))
  rowsDue.delete(null)
  const isAccepted = failed.filter((k) => isDrawn.has(k)).length <= failuresAllowed
  const taken = new Set([...drawn, ...failed])
  const due = (isDue: (item: LotItem) => boolean) => {
    const places = [...items.keys()].filter((k) => !taken.has(k) && isDue(items[k]))
    for (const k of places) taken.add(k)
    return places
  }
  return {
    isAccepted,
    tables: due(({ table }) => ofTable.has(table)),
    rows: due(({ row }) => rowsDue.has(row)),
    lot: isAccepted ? [] : due(() => true),
  }
}
