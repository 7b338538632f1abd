import { fail, ok, type Result } from '../base/result.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { EntryOf } from '../model/schema/record.ts'
import { latestVisit, openedVisit } from '../state/entries.ts'
import type { Identity } from '../state/identity.ts'
import type { Session } from '../state/session.svelte.ts'
import { firstKits, firstLeads } from './measuringSetup.ts'

/** The visit that an entry made now belongs to; where there is none, one is opened. */
export function visitToWriteIn(session: Session, identity: Identity): Result<EntryOf<'visit'>, Problem> {
  const { site } = session
  if (!site || !session.canWrite) return fail(problem('storage.heldElsewhere', {}))
  const latest = latestVisit(site)
  if (latest) return ok(latest)
  const opened = openedVisit(site, identity, firstKits, firstLeads)
  const trouble = session.append(opened)
  return trouble ? fail(trouble) : ok(opened)
}
