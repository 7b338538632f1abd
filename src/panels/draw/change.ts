import type { Edit } from '../../model/edits/edit.ts'
import type { Problem } from '../../model/problem.ts'
import type { Site } from '../../model/schema/site.ts'
import type { AppState } from '../../state/appState.ts'
import type { Session } from '../../state/session.svelte.ts'
import { formTexts } from '../../text/formText.ts'
import { describeProblem } from '../../text/problems.ts'

/** One change of the drawing: whether it can be made, and its name as a step that can be undone. */
export interface Change {
  readonly can: (site: Site) => true | Problem
  readonly edit: Edit
  readonly label: string
}

/** The change that an edit of the model makes with these arguments. */
export function changeOf<A>(
  can: (site: Site, args: A) => true | Problem,
  edit: (args: A) => Edit,
  args: A,
  label: string,
): Change {
  return { can: (site) => can(site, args), edit: edit(args), label }
}

/** Why a change cannot be made now, as a sentence; null where it can. */
export function whyNot(session: Session, change: Change): string | null {
  if (session.site === null || !session.canWrite) return formTexts.readOnly
  const can = change.can(session.site)
  return can === true ? null : describeProblem(can)
}

/** Makes a change as one step and says so; gives back why not where it cannot be made. */
export function makeChange({ session, selection, announcer }: AppState, change: Change): string | null {
  const why = whyNot(session, change)
  if (why !== null) return why
  const before = session.site
  session.commit(change.edit, change.label, selection.picked)
  if (session.site !== before) announcer.say(formTexts.done(change.label))
  return null
}
