import type { Result } from '../../base/result.ts'
import { fail, ok } from '../../base/result.ts'
import type { LabelColumn } from '../labels/labelColumn.ts'
import { tableLabelsOfColumn } from '../labels/labelColumn.ts'
import type { LabelRepeats } from '../labels/labelRepeats.ts'
import { labelRepeats } from '../labels/labelRepeats.ts'
import type { LabelledRow, RowRule, TableRule } from '../labels/labelRule.ts'
import { rowLabelsByRule, tableLabelsByRule } from '../labels/labelRule.ts'
import type { TableWalk } from '../labels/tableWalk.ts'
import type { Problem } from '../problem.ts'
import { byId } from '../queries/byId.ts'
import { sameContent } from '../sameContent.ts'
import type { Drawing } from '../schema/drawing.ts'
import type { Row } from '../schema/row.ts'
import type { Site } from '../schema/site.ts'
import type { Attempt } from './edit.ts'
import { asEdit, commitDrawing, notThere } from './edit.ts'

/*
 * What is painted on site: on tables and rows, by a rule, from a pasted column, or off again. Labels are no ids:
 * nothing is addressed by them, and two alike are told (`previewTableLabels`), not refused.
 */

export interface NumberTables {
  readonly rows: readonly number[]
  readonly rule: TableRule
}

/** Labels all tables of rows by a rule, over what was painted there before. */
export const { can: canNumberTables, edit: numberTables } = asEdit<NumberTables>((site, { rows, rule }) => {
  const labelled = tableLabelsByRule(site.drawing, rows, rule)
  return labelled.ok ? commitRows(site, withTableLabels(site.drawing, labelled.value)) : fail(labelled.error)
})

export interface PasteLabels {
  readonly rows: readonly number[]
  readonly column: LabelColumn
  readonly walk: TableWalk
}

/**
 * Puts a pasted column of labels onto tables in order. Tables with an empty line or none keep what they have, lines
 * over are left out; `fitColumn` tells how many.
 */
export const { can: canPasteLabels, edit: pasteLabels } = asEdit<PasteLabels>(
  (site, { rows, column, walk }) => {
    const labelled = tableLabelsOfColumn(site.drawing, rows, column, walk)
    return labelled.ok
      ? commitRows(site, withTableLabels(site.drawing, labelled.value))
      : fail(labelled.error)
  },
)

export interface LabelRows {
  readonly rows: readonly number[]
  readonly rule: RowRule
}

/** Labels rows by a rule. */
export const { can: canLabelRows, edit: labelRows } = asEdit<LabelRows>((site, { rows, rule }) => {
  const labelled = rowLabelsByRule(site.drawing, rows, rule)
  if (!labelled.ok) return fail(labelled.error)
  const labels = new Map(labelled.value.map(({ row, label }) => [row.id, label]))
  return commitRows(
    site,
    site.drawing.rows.map((row) => ({ ...row, label: labels.get(row.id) ?? row.label })),
  )
})

export interface ClearLabels {
  readonly rows: readonly number[]
  readonly of: 'tables' | 'rows'
}

/** Takes the labels off the tables of rows, or off the rows. */
export const { can: canClearLabels, edit: clearLabels } = asEdit<ClearLabels>((site, { rows, of }) => {
  const known = byId(site.drawing.rows)
  const missing = rows.find((row) => !known.has(row))
  if (missing !== undefined) return notThere('row', missing)
  const chosen = new Set(rows)
  const cleared = of === 'tables' ? { tableLabels: {} } : { label: '' }
  return commitRows(
    site,
    site.drawing.rows.map((row) => (chosen.has(row.id) ? { ...row, ...cleared } : row)),
  )
})

/** A label without text is none. */
function withTableLabels(drawing: Drawing, labelled: readonly LabelledRow[]): readonly Row[] {
  const tablesOf = new Map(labelled.map(({ row, tables }) => [row.id, tables]))
  return drawing.rows.map((row) => {
    const tables = tablesOf.get(row.id)
    if (!tables) return row
    const tableLabels: Record<number, string> = { ...row.tableLabels }
    for (const { table, label } of tables) tableLabels[table] = label
    return {
      ...row,
      tableLabels: tables.some(({ label }) => isNone(label)) ? painted(tableLabels) : tableLabels,
    }
  })
}

const isNone = (label: string) => label.trim() === ''

function painted(tableLabels: Row['tableLabels']): Row['tableLabels'] {
  return Object.fromEntries(Object.entries(tableLabels).filter(([, label]) => !isNone(label)))
}

/** Rows that say what they said before keep their identity. */
function commitRows(site: Site, rows: readonly Row[]): Attempt {
  const kept = rows.map((row, k) => (sameContent(row, site.drawing.rows[k]) ? site.drawing.rows[k] : row))
  if (kept.every((row, k) => row === site.drawing.rows[k])) return ok(site)
  return commitDrawing(site, { rows: kept })
}

/** The labels that a rule would give, before it is applied. */
export interface LabelPreview {
  readonly tables: number
  /** The first few and the last few in the order of counting, each with the address of its table (`R3/T7`). */
  readonly first: readonly PreviewedLabel[]
  readonly last: readonly PreviewedLabel[]
  /** Among all tables of the site, as far as these rows are concerned. */
  readonly repeats: LabelRepeats
}

export interface PreviewedLabel {
  readonly table: string
  readonly label: string
}

const shown = 3

/** What `numberTables` would paint: the first and last labels, and labels that would stand twice. O(tables). */
export function previewTableLabels(site: Site, { rows, rule }: NumberTables): Result<LabelPreview, Problem> {
  const labelled = tableLabelsByRule(site.drawing, rows, rule)
  if (!labelled.ok) return labelled
  const all = labelled.value.flatMap(({ row, tables }) =>
    tables.map(({ table, label }) => ({ table: `R${row.id}/T${table}`, label })),
  )
  return ok({
    tables: all.length,
    first: all.slice(0, shown),
    last: all.slice(Math.max(all.length - shown, shown)),
    repeats: labelRepeats(withTableLabels(site.drawing, labelled.value), new Set(rows)),
  })
}
