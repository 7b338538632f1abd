import { ok } from '../../base/result.ts'
import { sameContent } from '../sameContent.ts'
import type { Access } from '../schema/planning.ts'
import { asEdit, commitDrawing } from './edit.ts'
import { addingCounted, changingItem, removingItem } from './listEdits.ts'

/** Says how parts of one kind can be reached. */
export const { can: canSetAccess, edit: setAccess } = asEdit<Access>((site, access) => {
  const at = site.drawing.access.findIndex(({ part }) => part === access.part)
  if (at >= 0 && sameContent(site.drawing.access[at], access)) return ok(site)
  const rows = at < 0 ? [...site.drawing.access, access] : site.drawing.access.with(at, access)
  return commitDrawing(site, { access: rows })
})

export const { can: canAddAisle, edit: addAisle } = addingCounted('aisles')
export const { can: canChangeAisle, edit: changeAisle } = changingItem('aisles')
export const { can: canRemoveAisle, edit: removeAisle } = removingItem('aisles')

export const { can: canAddObstacle, edit: addObstacle } = addingCounted('obstacles')
export const { can: canChangeObstacle, edit: changeObstacle } = changingItem('obstacles')
export const { can: canRemoveObstacle, edit: removeObstacle } = removingItem('obstacles')
