import type { Entry } from '../schema/record.ts'

const compareText = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0)

/**
 * The order in which entries count, the same on every device however their files were merged: by time, then
 * device, then that device's counter (and by id, should two windows on one device have counted alike).
 * Clocks of two devices may differ; within one device and one millisecond the counter decides.
 */
export function inCanonicalOrder(record: readonly Entry[]): readonly Entry[] {
  const atMs = new Map<Entry, number>()
  for (const entry of record) atMs.set(entry, Date.parse(entry.at))
  return record.toSorted(
    (a, b) =>
      atMs.get(a)! - atMs.get(b)! ||
      compareText(a.device, b.device) ||
      a.counter - b.counter ||
      compareText(a.id, b.id),
  )
}
