import { fail } from '../../base/result.ts'
import { problem } from '../problem.ts'
import { byId } from '../queries/byId.ts'
import { findTable, tableCount } from '../queries/tablePosition.ts'
import { joinRuns, splitRuns } from '../runs.ts'
import type { Row } from '../schema/row.ts'
import { asEdit, commitDrawing, notThere } from './edit.ts'
import { releaseLost } from './releaseLost.ts'

export interface SetRowTables {
  readonly row: number
  /** How many tables the row is to have. */
  readonly tables: number
  /** Type of tables that are added; without it that of the last table. */
  readonly type?: string
}

/**
 * Makes a row longer or shorter at its end. New tables get ids of their own; those that go let go what was fastened
 * to them, their painted labels with them.
 */
export const { can: canSetRowTables, edit: setRowTables } = asEdit<SetRowTables>((site, args) => {
  const row = byId(site.drawing.rows).get(args.row)
  if (!row) return notThere('row', args.row)
  if (!Number.isInteger(args.tables) || args.tables < 1) {
    const facts = { expected: 'a whole number, at least 1', found: String(args.tables) }
    return fail(problem('value.outOfRange', facts, { path: ['tables'] }))
  }
  const more = args.tables - tableCount(row)
  if (more === 0) return { ok: true, value: site }
  const changed = more > 0 ? longer(row, more, args.type ?? row.runs.at(-1)!.type) : shorter(row, args.tables)
  const rows = site.drawing.rows.map((one) => (one === row ? changed : one))
  return commitDrawing(site, releaseLost({ ...site.drawing, rows }))
})

function longer(row: Row, count: number, type: string): Row {
  const runs = joinRuns([...row.runs, { firstTable: row.nextTable, count, type }])
  return { ...row, runs, nextTable: row.nextTable + count }
}

function shorter(row: Row, tables: number): Row {
  const [runs] = splitRuns(row.runs, tables)
  const left = { ...row, runs }
  const labels = Object.entries(row.tableLabels)
  const tableLabels = Object.fromEntries(labels.filter(([table]) => findTable(left, Number(table))))
  return { ...left, tableLabels }
}

export interface ReplaceRowType {
  readonly rows: readonly number[]
  readonly type: string
  /** Only tables of this type; without it all of the rows. */
  readonly instead?: string
}

/** Makes tables of rows of another type; their ids and labels stay, and what the new type has no part for is let go. */
export const { can: canReplaceRowType, edit: replaceRowType } = asEdit<ReplaceRowType>((site, args) => {
  const known = byId(site.drawing.rows)
  const missing = args.rows.find((row) => !known.has(row))
  if (missing !== undefined) return notThere('row', missing)
  const chosen = new Set(args.rows)
  const isReplaced = (type: string) =>
    type !== args.type && (args.instead === undefined || type === args.instead)
  let isSame = true
  const rows = site.drawing.rows.map((row) => {
    if (!chosen.has(row.id) || !row.runs.some(({ type }) => isReplaced(type))) return row
    isSame = false
    const runs = row.runs.map((run) => (isReplaced(run.type) ? { ...run, type: args.type } : run))
    return { ...row, runs: joinRuns(runs) }
  })
  if (isSame) return { ok: true, value: site }
  return commitDrawing(site, releaseLost({ ...site.drawing, rows }))
})
