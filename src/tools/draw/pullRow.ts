import type { Edit } from '../../model/edits/edit.ts'
import { changeRow } from '../../model/edits/rows.ts'
import { insertTables, removeTable } from '../../model/edits/tables.ts'
import { byId } from '../../model/queries/byId.ts'
import { tableAt, tableCount } from '../../model/queries/tablePosition.ts'

/** A row with so many tables in another direction: new ones of the type of its last, or the last ones taken away. */
export function pullRow(args: {
  readonly row: number
  readonly tables: number
  readonly bearingDeg: number
}): Edit {
  const { row: id, tables, bearingDeg } = args
  return (site) => {
    const row = byId(site.drawing.rows).get(id)
    if (!row) return site
    let changed = changeRow({ row: id, changes: { bearingDeg } })(site)
    const now = tableCount(row)
    const { table: after, type } = tableAt(row, now - 1)!
    if (tables > now) return insertTables({ row: id, after, type, tables: tables - now })(changed)
    for (let k = now - 1; k >= tables; k--)
      changed = removeTable({ row: id, table: tableAt(row, k)!.table })(changed)
    return changed
  }
}
