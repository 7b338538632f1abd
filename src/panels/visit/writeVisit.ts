import { fail, ok, type Result } from '../../base/result.ts'
import { problem, type Problem } from '../../model/problem.ts'
import type { EntryOf, VisitFacts } from '../../model/schema/record.ts'
import type { AppState } from '../../state/appState.ts'
import { amendmentNow, leadCheckNow, nextStamp, visitNow } from '../../state/entries.ts'
import { visitTexts } from '../../text/visitCardText.ts'
import { factsOf, isSame } from './visitDraft.ts'

type Parts = Pick<AppState, 'session' | 'identity' | 'usual'>

/** Opens a visit, or amends the one that is open; a remark becomes a note. Gives back what to say. */
export function writeVisit(
  { session, identity, usual }: Parts,
  visit: EntryOf<'visit'> | null,
  facts: VisitFacts,
  remark: string,
): Result<string, Problem> {
  const { site } = session
  if (!site || !session.canWrite) return fail(problem('storage.heldElsewhere', {}))
  const isChanged = visit === null || !isSame(factsOf(visit), facts)
  const text = remark.trim()
  if (!isChanged && text === '') return ok(visitTexts.nothingNew)
  const entry = visit ? amendmentNow(site, identity, visit, facts) : visitNow(site, identity, facts)
  const trouble = isChanged ? session.append(entry) : null
  if (trouble) return fail(trouble)
  usual.keep(facts)
  if (text !== '') {
    const note: EntryOf<'note'> = {
      ...nextStamp(session.site ?? site, identity),
      entry: 'note',
      visit: visit?.id ?? entry.id,
      about: null,
      text,
    }
    const refused = session.append(note)
    if (refused) return fail(refused)
  }
  return ok(visit ? visitTexts.amended : visitTexts.opened)
}

/** What a lead read that is shorted at its far end. */
export function writeLeadCheck(
  { session, identity }: Parts,
  visit: EntryOf<'visit'>,
  what: Pick<EntryOf<'leadCheck'>, 'kit' | 'lead' | 'result'>,
): Problem | null {
  const { site } = session
  if (!site || !session.canWrite) return problem('storage.heldElsewhere', {})
  return session.append(leadCheckNow(site, identity, visit, what))
}
