import type { Result } from '../../base/result.ts'
import { fail, ok } from '../../base/result.ts'
import { checkSite } from '../checkSite.ts'
import type { Problem } from '../problem.ts'
import { problem } from '../problem.ts'
import { byId } from '../queries/byId.ts'
import { sameContent } from '../sameContent.ts'
import type { Entry } from '../schema/record.ts'
import type { Site } from '../schema/site.ts'
import { inCanonicalOrder } from './canonicalOrder.ts'

/** One id with two contents: someone changed an entry outside the program, or a device's memory was copied. */
export interface EntryConflict {
  readonly id: string
  /** The entry of the first site, which the merged record keeps. */
  readonly first: Entry
  /** The entry of the second site, which is in no record until someone decides. */
  readonly second: Entry
}

export interface MergedSites {
  readonly site: Site
  readonly added: number
  readonly conflicts: readonly EntryConflict[]
  /**
   * Drawings are never merged: the site keeps the first one's. `same` revision or content; `newer` where the first was
   * drawn from the second's; `older` the other way round; `diverged` where neither is the other's parent.
   */
  readonly drawing: 'same' | 'newer' | 'older' | 'diverged'
}

function compareDrawings(first: Site, second: Site): MergedSites['drawing'] {
  const [a, b] = [first.drawing, second.drawing]
  if (a.revision === b.revision) return 'same'
  if (a.parent === b.revision) return 'newer'
  if (b.parent === a.revision) return 'older'
  const isSame = sameContent({ ...a, parent: null }, { ...b, revision: a.revision, parent: null })
  return isSame && first.name === second.name ? 'same' : 'diverged'
}

/**
 * Brings two files of one site together: the record becomes the union by id, the first one's entries in
 * their place and the second's new ones behind them in canonical order. Nothing is dropped unseen: an id
 * with two contents is a conflict that the caller has to show. Another site's file is refused, and so is a
 * union that contradicts itself (an entry that uses a kit which the kept version of its visit lacks). Merging again changes
 * nothing; merging in either order gives the same effective record, but for conflicts.
 */
export function mergeSites(first: Site, second: Site): Result<MergedSites, Problem> {
  if (first.id !== second.id) {
    return fail(problem('reference.otherSite', { found: second.id, expected: first.id }, { path: ['id'] }))
  }
  const present = byId(first.record)
  const added: Entry[] = []
  const conflicts: EntryConflict[] = []
  for (const entry of inCanonicalOrder(second.record)) {
    const same = present.get(entry.id)
    if (!same) added.push(entry)
    else if (!sameContent(same, entry)) conflicts.push({ id: entry.id, first: same, second: entry })
  }
  const site = added.length === 0 ? first : { ...first, record: [...first.record, ...added] }
  const wrong = checkSite(site)
  if (wrong.length > 0) return fail(wrong[0])
  return ok({ site, added: added.length, conflicts, drawing: compareDrawings(first, second) })
}
