import { problem } from '../problem.ts'
import { byId } from '../queries/byId.ts'
import type { TableType } from '../schema/tableType.ts'
import { asEdit, commitDrawing, notThere, replaceItem } from './edit.ts'
import { addingNamed, removingItem } from './listEdits.ts'
import { releaseLost } from './releaseLost.ts'

export const { can: canAddTableType, edit: addTableType } = addingNamed('tableTypes')

/**
 * Gives the type with this id a new form, in all its tables. Addresses that the new form has no part or
 * joint for are kept where they are stored; `orphansOfTypeEdit` lists them beforehand.
 */
export const { can: canChangeTableType, edit: changeTableType } = asEdit<TableType>((site, type) => {
  const old = byId(site.drawing.tableTypes).get(type.id)
  if (!old) return notThere('table type', type.id)
  const tableTypes = replaceItem(site.drawing.tableTypes, old, type)
  return commitDrawing(site, releaseLost({ ...site.drawing, tableTypes }))
})

/** Removes a type that no table is of. */
export const { can: canRemoveTableType, edit: removeTableType } = removingItem('tableTypes', (site, id) => {
  let users = 0
  for (const row of site.drawing.rows) for (const run of row.runs) if (run.type === id) users += run.count
  return users === 0 ? null : problem('edit.inUse', { what: 'table type', id, users })
})
