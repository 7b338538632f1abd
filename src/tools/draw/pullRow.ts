import type { Edit } from '../../model/edits/edit.ts'
import { changeRow } from '../../model/edits/rows.ts'
import { setRowTables } from '../../model/edits/rowTables.ts'

/** A row with so many tables in another direction, in one edit. */
export function pullRow(args: {
  readonly row: number
  readonly tables: number
  readonly bearingDeg: number
}): Edit {
  const { row, tables, bearingDeg } = args
  const long = setRowTables({ row, tables })
  const turned = changeRow({ row, changes: { bearingDeg } })
  return (site) => turned(long(site))
}
