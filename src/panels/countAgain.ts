import type { Problem } from '../model/problem.ts'
import { effectiveRecord } from '../model/record/effectiveRecord.ts'
import type { EntryOf } from '../model/schema/record.ts'
import { withdrawalOf } from '../state/entries.ts'
import type { Identity } from '../state/identity.ts'
import type { Session } from '../state/session.svelte.ts'

/**
 * Lets a withdrawn reading count again. Nothing is taken out of the record: every withdrawal of it that
 * counts, and a merge can have brought several, is withdrawn in its turn.
 */
export function countAgain(
  session: Session,
  identity: Identity,
  reading: EntryOf<'reading'>,
  reason: string,
): Problem | null {
  for (const { entry, withdrawnBy } of effectiveRecord(session.site?.record ?? [])) {
    if (entry.entry !== 'withdrawal' || entry.of !== reading.id || withdrawnBy) continue
    if (!session.site) return null
    const undone = { ...withdrawalOf(session.site, identity, reading, reason), of: entry.id }
    const problem = session.append(undone)
    if (problem) return problem
  }
  return null
}
