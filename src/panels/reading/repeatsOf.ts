import { isPair } from '../../text/readingPlace.ts'
import type { ReadingRow } from '../../state/readingRows.ts'

/**
 * Readings to be seen side by side with one: those of the same two parts, whichever came first, of the same jaws or
 * the same electrode, and all of its chain of repeats; withdrawn ones among them, in the order of the record, itself
 * included. O(readings).
 */
export function repeatsOf(rows: readonly ReadingRow[], entry: string): readonly ReadingRow[] {
  const byId = new Map(rows.map((row) => [row.reading.id, row]))
  const own = byId.get(entry)
  if (!own) return []
  const [place, first] = [placeKey(own), firstOf(byId, entry)]
  return rows.filter(
    (row) =>
      row === own || (place !== null && placeKey(row) === place) || firstOf(byId, row.reading.id) === first,
  )
}

/** Null for a clamp of which nobody noted where it was closed. */
function placeKey({ reading }: ReadingRow): string | null {
  const { method, around, from, to } = reading
  if (isPair(reading)) return `pair ${[from.part, to.part].sort().join(' ')}`
  if (method === 'loopClamp') return around === null ? null : `around ${around}`
  return `electrode ${from.part}`
}

/** The reading that a chain began with; a ring, which no program writes, ends where it closes. */
function firstOf(byId: ReadonlyMap<string, ReadingRow>, id: string): string {
  const seen = new Set([id])
  let at = id
  for (;;) {
    const before = byId.get(at)?.reading.repeats ?? null
    if (before === null || seen.has(before) || !byId.has(before)) return at
    seen.add(before)
    at = before
  }
}
