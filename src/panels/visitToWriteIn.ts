import { fail, ok, type Result } from '../base/result.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { EntryOf } from '../model/schema/record.ts'
import { openedVisit } from '../state/entries.ts'
import type { Identity } from '../state/identity.ts'
import type { Session } from '../state/session.svelte.ts'
import type { MeasuringSetup } from './measuringSetup.ts'

/** The visit that an entry made now belongs to; where there is none for today, one is opened. */
export function visitToWriteIn(
  session: Session,
  identity: Identity,
  { visit, kits, leads }: Pick<MeasuringSetup, 'visit' | 'kits' | 'leads'>,
  party: readonly string[] = [],
): Result<EntryOf<'visit'>, Problem> {
  const { site } = session
  if (!site || !session.canWrite) return fail(problem('storage.heldElsewhere', {}))
  if (visit) return ok(visit)
  const opened = openedVisit(site, identity, kits, leads, party)
  const trouble = session.append(opened)
  return trouble ? fail(trouble) : ok(opened)
}
