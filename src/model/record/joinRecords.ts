import type { Result } from '../../base/result.ts'
import { fail, ok } from '../../base/result.ts'
import { checkSite } from '../checkSite.ts'
import { limits } from '../limits.ts'
import type { Problem } from '../problem.ts'
import type { NextIds } from '../schema/drawing.ts'
import type { Entry, EntryOf } from '../schema/record.ts'
import type { Site } from '../schema/site.ts'
import type { EntryConflict } from './mergeSites.ts'

/** Makes id, device, count and time of a new entry that follows those of a site. */
export type Stamp = (site: Site) => Pick<Entry, 'id' | 'device' | 'counter' | 'at'>

/**
 * Settles entries with one id and two contents in a merged site: the chosen content stands under the id, the other one
 * is written whole into a note, so that nothing is dropped unseen. Those in `second` count as the second file has
 * them, all others as the first one has. A visit that neither side agrees on keeps its own notes.
 */
export function settleConflicts(
  merged: Site,
  conflicts: readonly EntryConflict[],
  second: ReadonlySet<string>,
  stamp: Stamp,
): Result<Site, Problem> {
  const chosen = new Map(conflicts.filter(({ id }) => second.has(id)).map((one) => [one.id, one.second]))
  let site: Site = { ...merged, record: merged.record.map((entry) => chosen.get(entry.id) ?? entry) }
  for (const { id, first, second: other } of conflicts) {
    const left = second.has(id) ? first : other
    for (const text of pieces(`Another content of entry ${id}, not counted: ${JSON.stringify(left)}`)) {
      const note: EntryOf<'note'> = { ...stamp(site), entry: 'note', visit: visitOf(left), about: null, text }
      site = { ...site, record: [...site.record, note] }
    }
  }
  const wrong = checkSite(site)
  return wrong.length > 0 ? fail(wrong[0]) : ok(site)
}

function visitOf(entry: Entry): string {
  return entry.entry === 'visit' ? entry.id : entry.visit
}

function pieces(text: string): readonly string[] {
  const count = Math.ceil(text.length / limits.textLength)
  return Array.from({ length: count }, (_, k) =>
    text.slice(k * limits.textLength, (k + 1) * limits.textLength),
  )
}

/**
 * The site with name and drawing of another of its versions; its record stays. Counts of ids never go back, so that no
 * id is given twice. The revision is the other one's where nothing had to change in it, else `newRevision`.
 */
export function withDrawingOf(site: Site, other: Site, newRevision: string): Result<Site, Problem> {
  const nextIds = highest(site.drawing.nextIds, other.drawing.nextIds)
  const isSame = Object.entries(nextIds).every(
    ([key, next]) => other.drawing.nextIds[key as keyof NextIds] === next,
  )
  const drawing = isSame
    ? other.drawing
    : { ...other.drawing, nextIds, revision: newRevision, parent: other.drawing.revision }
  const next = { ...site, name: other.name, drawing }
  const wrong = checkSite(next)
  return wrong.length > 0 ? fail(wrong[0]) : ok(next)
}

function highest(a: NextIds, b: NextIds): NextIds {
  const both = Object.entries(a).map(([key, next]) => [key, Math.max(next, b[key as keyof NextIds])] as const)
  return Object.fromEntries(both) as NextIds
}
