import type { Problem } from '../model/problem.ts'
import type { EntryOf, OhmOrOver } from '../model/schema/record.ts'
import { nextStamp } from '../state/entries.ts'
import type { Identity } from '../state/identity.ts'
import type { Session } from '../state/session.svelte.ts'

/** Puts another value beside the one that was typed wrongly; the first one stays in the record. */
export function correctReading(
  session: Session,
  identity: Identity,
  reading: EntryOf<'reading'>,
  result: OhmOrOver,
  reason: string,
): Problem | null {
  const { site } = session
  if (!site) return null
  return session.append({
    ...nextStamp(site, identity),
    entry: 'correction',
    visit: reading.visit,
    of: reading.id,
    result,
    from: null,
    to: null,
    reason,
  })
}
