import type { Result } from '../../base/result.ts'
import { fail, ok } from '../../base/result.ts'
import { checkEntry, visitsOf } from '../checks/checkRecord.ts'
import type { Findings } from '../checks/findings.ts'
import { limits } from '../limits.ts'
import type { Problem } from '../problem.ts'
import { problem } from '../problem.ts'
import { byId } from '../queries/byId.ts'
import { sameContent } from '../sameContent.ts'
import type { Entry } from '../schema/record.ts'
import { entrySchema } from '../schema/record.ts'
import type { Site } from '../schema/site.ts'
import { checkShape } from '../shape/checkShape.ts'

/**
 * Whether an entry can be added: its values are in range, what it refers to (visit, kit, lead, entries) is
 * in the record, and no other entry has its id or its place in its device's count. True also for an entry
 * that is there already.
 */
export function canAppendEntry(site: Site, entry: Entry): true | Problem {
  const entries = byId(site.record)
  const present = entries.get(entry.id)
  if (present) {
    return sameContent(present, entry) || problem('reference.conflict', { id: entry.id }, { entry: entry.id })
  }
  const misshapen = checkShape(entrySchema, entry)
  if (misshapen.length > 0) return misshapen[0]
  if (site.record.length >= limits.recordEntries) {
    const facts = { what: 'record entries', found: site.record.length + 1, most: limits.recordEntries }
    return problem('size.tooMany', facts)
  }
  if (site.record.some(({ device, counter }) => device === entry.device && counter === entry.counter)) {
    const facts = { what: 'device and counter', id: `${entry.device} ${entry.counter}` }
    return problem('reference.duplicateId', facts, { entry: entry.id })
  }
  const findings: Findings = { drawing: site.drawing, wrong: [], told: [] }
  const visits = visitsOf(entry.entry === 'visit' ? [entry] : [...site.record, entry])
  checkEntry(findings, entry, entries, visits, ['record', site.record.length])
  return findings.wrong[0] ?? true
}

/**
 * Adds an entry at the end of the record: the only way in which a record grows besides a merge. The same
 * site comes back when the entry is there already, a problem when it cannot be added. Cost O(entries).
 */
export const appendEntry =
  (entry: Entry) =>
  (site: Site): Result<Site, Problem> => {
    const can = canAppendEntry(site, entry)
    if (can !== true) return fail(can)
    if (byId(site.record).has(entry.id)) return ok(site)
    return ok({ ...site, record: [...site.record, entry] })
  }
