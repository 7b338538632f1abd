import { fail } from '../../base/result.ts'
import { problem } from '../problem.ts'
import { byId } from '../queries/byId.ts'
import { findTable } from '../queries/tablePosition.ts'
import { joinRuns, splitRuns } from '../runs.ts'
import type { Row } from '../schema/row.ts'
import type { Site } from '../schema/site.ts'
import type { Attempt } from './edit.ts'
import { asEdit, commitDrawing, notThere, replaceItem } from './edit.ts'
import { releaseLost } from './releaseLost.ts'

function changeRuns(site: Site, row: Row, changes: Partial<Row>): Attempt {
  const rows = replaceItem(site.drawing.rows, row, changes)
  return commitDrawing(site, releaseLost({ ...site.drawing, rows }))
}

export interface InsertTables {
  readonly row: number
  /** The table that the new ones follow; null to put them first. */
  readonly after: number | null
  readonly type: string
  readonly tables: number
}

/** Puts new tables into a row or at its end. They get ids of their own: no table is renumbered. */
export const { can: canInsertTables, edit: insertTables } = asEdit<InsertTables>((site, args) => {
  const row = byId(site.drawing.rows).get(args.row)
  if (!row) return notThere('row', args.row)
  const placed = args.after === null ? null : findTable(row, args.after)
  if (args.after !== null && !placed) return notThere('table', `R${row.id}/T${args.after}`)
  if (args.tables === 0) return { ok: true, value: site }
  const [before, after] = splitRuns(row.runs, placed ? placed.position + 1 : 0)
  const added = { firstTable: row.nextTable, count: args.tables, type: args.type }
  if (!Number.isInteger(args.tables) || args.tables < 1) {
    const facts = { expected: 'a whole number, at least 1', found: String(args.tables) }
    return fail(problem('value.outOfRange', facts, { path: ['tables'] }))
  }
  const runs = joinRuns([...before, added, ...after])
  return changeRuns(site, row, { runs, nextTable: row.nextTable + args.tables })
})

export interface OneTable {
  readonly row: number
  readonly table: number
}

/** Takes a table out of its row, its painted label with it. The last one goes with the row itself. */
export const { can: canRemoveTable, edit: removeTable } = asEdit<OneTable>((site, args) => {
  const row = byId(site.drawing.rows).get(args.row)
  if (!row) return notThere('row', args.row)
  const placed = findTable(row, args.table)
  if (!placed) return notThere('table', `R${row.id}/T${args.table}`)
  const [before, rest] = splitRuns(row.runs, placed.position)
  const [, after] = splitRuns(rest, 1)
  const runs = joinRuns([...before, ...after])
  if (runs.length === 0) {
    const reason = 'a row has one table or more; remove the row instead'
    return fail(problem('value.inconsistent', { reason }, { address: `R${row.id}/T${args.table}` }))
  }
  const { [String(args.table)]: _gone, ...tableLabels } = row.tableLabels
  return changeRuns(site, row, { runs, tableLabels })
})

export interface RetypeTable extends OneTable {
  readonly type: string
}

/** Makes one table of another type; its id and label stay. */
export const { can: canRetypeTable, edit: retypeTable } = asEdit<RetypeTable>((site, args) => {
  const row = byId(site.drawing.rows).get(args.row)
  if (!row) return notThere('row', args.row)
  const placed = findTable(row, args.table)
  if (!placed) return notThere('table', `R${row.id}/T${args.table}`)
  if (placed.type === args.type) return { ok: true, value: site }
  const [before, rest] = splitRuns(row.runs, placed.position)
  const [[table], after] = splitRuns(rest, 1)
  return changeRuns(site, row, { runs: joinRuns([...before, { ...table, type: args.type }, ...after]) })
})

export interface LabelTable extends OneTable {
  /** What is painted on the table; an empty text takes the label off. */
  readonly label: string
}

export const { can: canLabelTable, edit: labelTable } = asEdit<LabelTable>((site, args) => {
  const row = byId(site.drawing.rows).get(args.row)
  if (!row) return notThere('row', args.row)
  if (!findTable(row, args.table)) return notThere('table', `R${row.id}/T${args.table}`)
  const { [String(args.table)]: _old, ...others } = row.tableLabels
  const tableLabels = args.label === '' ? others : { ...others, [String(args.table)]: args.label }
  return commitDrawing(site, { rows: replaceItem(site.drawing.rows, row, { tableLabels }) })
})
