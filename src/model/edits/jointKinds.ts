import { computedKinds } from '../jointCatalogue.ts'
import { fail } from '../../base/result.ts'
import { checkSite } from '../checkSite.ts'
import { problem } from '../problem.ts'
import { byId } from '../queries/byId.ts'
import { namedKinds } from '../queries/namedKinds.ts'
import type { Drawing } from '../schema/drawing.ts'
import type { JointKind } from '../schema/jointKind.ts'
import type { ChangeItem } from './listEdits.ts'
import { addingNamed, removingItem } from './listEdits.ts'
import { asEdit, commitDrawing, notThere, replaceItem } from './edit.ts'

/** Where a drawing names a joint kind; `splice` also in every long member that has one. */
export function countKindUsers(drawing: Drawing, id: string): number {
  let users = 0
  for (const kind of namedKinds(drawing)) if (kind === id) users++
  return users
}

export const { can: canAddJointKind, edit: addJointKind } = addingNamed('jointKinds')

/** Changes a kind's name, figures or source. A kind in use keeps a median where one is needed. */
export const { can: canChangeJointKind, edit: changeJointKind } = asEdit<ChangeItem<JointKind>>(
  (site, { id, changes }) => {
    const old = byId(site.drawing.jointKinds).get(id)
    if (!old) return notThere('joint kind', id)
    const attempt = commitDrawing(site, {
      jointKinds: replaceItem(site.drawing.jointKinds, old, { ...changes, id }),
    })
    if (!attempt.ok || old.medianOhm === null || attempt.value === site) return attempt
    if (byId(attempt.value.drawing.jointKinds).get(id)!.medianOhm !== null) return attempt
    // Taking the median away touches every place that names the kind.
    const wrong = checkSite(attempt.value)[0]
    return wrong ? fail(wrong) : attempt
  },
)

/** Removes a kind that nothing names; the kinds that the network computes ohms for stay. */
export const { can: canRemoveJointKind, edit: removeJointKind } = removingItem('jointKinds', (site, id) => {
  const isComputed = (computedKinds as readonly string[]).includes(id)
  const users = countKindUsers(site.drawing, id) + (isComputed ? 1 : 0)
  return users === 0 ? null : problem('edit.inUse', { what: 'joint kind', id, users })
})
