import { freeSlug } from '../freeSlug.ts'
import { problem } from '../problem.ts'
import { byId } from '../queries/byId.ts'
import type { Site } from '../schema/site.ts'
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

/** An id that no type of the site has, made of the name the type is to bear. */
export function freeTypeId({ drawing }: Site, name: string): string {
  return freeSlug(
    name,
    'type',
    drawing.tableTypes.map(({ id }) => id),
  )
}

export interface CopyTableType {
  readonly id: string
  readonly name: string
}

/** A type like another under a name of its own; tables stay of the type they are. */
export const { can: canCopyTableType, edit: copyTableType } = asEdit<CopyTableType>((site, { id, name }) => {
  const old = byId(site.drawing.tableTypes).get(id)
  if (!old) return notThere('table type', id)
  const copy = { ...old, id: freeTypeId(site, name), name }
  return commitDrawing(site, { tableTypes: [...site.drawing.tableTypes, copy] })
})

/** How many tables are of a type. O(runs). */
export function countTablesOfType({ drawing }: Site, id: string): number {
  let tables = 0
  for (const { runs } of drawing.rows) for (const run of runs) if (run.type === id) tables += run.count
  return tables
}

/** Removes a type that no table is of. */
export const { can: canRemoveTableType, edit: removeTableType } = removingItem('tableTypes', (site, id) => {
  const users = countTablesOfType(site, id)
  return users === 0 ? null : problem('edit.inUse', { what: 'table type', id, users })
})
