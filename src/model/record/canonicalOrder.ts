import type { Entry } from '../schema/record.ts'

const compareText = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0)

/**
 * The order in which entries count, the same on every device however their files were merged: by time, then
 * device, then that device's counter (and by id, should two windows on one device have counted alike).
 * Clocks of two devices may differ; within one device and one millisecond the counter decides.
 */
export function inCanonicalOrder(record: readonly Entry[]): readonly Entry[] {
  const timed = record.map((entry) => ({ entry, atMs: Date.parse(entry.at) }))
  timed.sort(
    (a, b) =>
      a.atMs - b.atMs ||
      compareText(a.entry.device, b.entry.device) ||
      a.entry.counter - b.entry.counter ||
      compareText(a.entry.id, b.entry.id),
  )
  return timed.map(({ entry }) => entry)
}
