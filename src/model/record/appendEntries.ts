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
 * Adds entries at the end of the record, all of them or none. Each may refer to those before it, as a reading does to
 * its visit. Entries that are there already are passed over; the same site comes back when all are. The problem is that of the
 * first entry that cannot be added. Cost O(entries of the record + entries added), where `appendEntry` for each of them
 * would cost their product.
 */
export const appendEntries =
  (added: readonly Entry[]) =>
  (site: Site): Result<Site, Problem> => {
    const present = byId(site.record)
    const entries = new Map(present)
    const fresh: Entry[] = []
    const counted = new Set(site.record.map(placeOf))
    const visits = new Map([...visitsOf(site.record)].map(([id, said]) => [id, [...said]]))
    const findings: Findings = { drawing: site.drawing, wrong: [], told: [] }
    for (const entry of added) {
      const there = entries.get(entry.id)
      if (there) {
        if (sameContent(there, entry)) continue
        return fail(problem('reference.conflict', { id: entry.id }, { entry: entry.id }))
      }
      const misshapen = checkShape(entrySchema, entry)
      if (misshapen.length > 0) return fail(misshapen[0])
      const length = site.record.length + fresh.length
      if (length >= limits.recordEntries) {
        const facts = { what: 'record entries', found: length + 1, most: limits.recordEntries }
        return fail(problem('size.tooMany', facts))
      }
      if (counted.has(placeOf(entry))) {
        const facts = { what: 'device and counter', id: placeOf(entry) }
        return fail(problem('reference.duplicateId', facts, { entry: entry.id }))
      }
      if (entry.entry === 'visit') visits.set(entry.id, [entry])
      if (entry.entry === 'amendment') visits.get(entry.visit)?.push(entry)
      checkEntry(findings, entry, entries, visits, ['record', length])
      if (findings.wrong.length > 0) return fail(findings.wrong[0])
      entries.set(entry.id, entry)
      counted.add(placeOf(entry))
      fresh.push(entry)
    }
    return ok(fresh.length === 0 ? site : { ...site, record: [...site.record, ...fresh] })
  }

const placeOf = ({ device, counter }: Entry) => `${device} ${counter}`
