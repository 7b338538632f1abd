import type { Result } from '../../base/result.ts'
import { ok } from '../../base/result.ts'
import type { Problem } from '../problem.ts'
import { tableCount } from '../queries/tablePosition.ts'
import type { Drawing } from '../schema/drawing.ts'
import type { LabelledRow } from './labelRule.ts'
import type { TableWalk, WalkedRow } from './tableWalk.ts'
import { tablesAlong, walkRows } from './tableWalk.ts'

/** A column of labels as it is copied out of a sheet: a text with a line for each table, or the lines. */
export type LabelColumn = string | readonly string[]

/** The labels of a column. Of a line with several cells the first counts; an empty line leaves its table out. */
export function linesOfColumn(column: LabelColumn): readonly string[] {
  const lines = typeof column === 'string' ? column.replace(/(\r\n|\r|\n)$/, '').split(/\r\n|\r|\n/) : column
  if (lines.length === 1 && lines[0].trim() === '') return []
  return lines.map((line) => line.split('\t')[0].trim())
}

/** How a column fits the tables that it is put onto. */
export interface ColumnFit {
  readonly lines: number
  readonly tables: number
  /** Tables that get a label. */
  readonly labelled: number
  /** Lines left over behind the last table; tables left over behind the last line. */
  readonly linesOver: number
  readonly tablesOver: number
}

export function fitColumn(drawing: Drawing, rows: readonly number[], column: LabelColumn): ColumnFit {
  const chosen = new Set(rows)
  const tables = drawing.rows.reduce((sum, row) => sum + (chosen.has(row.id) ? tableCount(row) : 0), 0)
  const lines = linesOfColumn(column)
  return {
    lines: lines.length,
    tables,
    labelled: lines.slice(0, tables).filter((line) => line !== '').length,
    linesOver: Math.max(lines.length - tables, 0),
    tablesOver: Math.max(tables - lines.length, 0),
  }
}

/** The labels of a column on the tables as they are walked; tables with an empty line or none are left out. */
export function tableLabelsOfColumn(
  drawing: Drawing,
  rows: readonly number[],
  column: LabelColumn,
  walk: TableWalk,
): Result<readonly LabelledRow[], Problem> {
  const walked = walkRows(drawing, rows, walk)
  if (!walked.ok) return walked
  const lines = linesOfColumn(column)
  let next = 0
  return ok(
    walked.value.map((walkedRow: WalkedRow): LabelledRow => {
      const tables = Array.from(tablesAlong(walkedRow), (table) => ({ table, label: lines[next++] ?? '' }))
      return { row: walkedRow.row, tables: tables.filter(({ label }) => label !== '') }
    }),
  )
}
