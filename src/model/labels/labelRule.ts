import type { Result } from '../../base/result.ts'
import { fail, ok } from '../../base/result.ts'
import type { Problem } from '../problem.ts'
import { problem } from '../problem.ts'
import type { Drawing } from '../schema/drawing.ts'
import type { Row } from '../schema/row.ts'
import type { Counted, LabelPiece } from './labelPattern.ts'
import { countsInLetters, readLabelPattern, writeLabel } from './labelPattern.ts'
import type { TableWalk } from './tableWalk.ts'
import { tablesAlong, walkRows } from './tableWalk.ts'

export interface Counting {
  readonly first: number
  readonly step: number
}

/** How tables of several rows are labelled: a pattern (`labelPattern.ts`), what is counted, and in which order. */
export interface TableRule extends TableWalk {
  readonly pattern: string
  readonly row: Counting
  readonly table: Counting
  /** The count of tables goes on through all rows, or begins anew in each. */
  readonly counting: 'through' | 'eachRow'
}

/** How rows themselves are labelled. Their pattern has no {table}. */
export interface RowRule extends Pick<TableWalk, 'start' | 'rowOrder'> {
  readonly pattern: string
  readonly row: Counting
}

/** What is to be painted on the tables of one row, in the order in which they are walked. */
export interface LabelledRow {
  readonly row: Row
  readonly tables: readonly { readonly table: number; readonly label: string }[]
}

const mostFirst = 1_000_000_000
const mostStep = 1_000_000

function checkCounting(
  counting: Readonly<Partial<Record<Counted, Counting>>>,
  pieces: readonly LabelPiece[],
): Problem | null {
  const letters = countsInLetters(pieces)
  for (const [of, { first, step }] of Object.entries(counting) as [Counted, Counting][]) {
    if (!Number.isInteger(first) || first < 0 || first > mostFirst) {
      const facts = { expected: 'a whole number from 0 on', found: String(first) }
      return problem('value.outOfRange', facts, { path: [of, 'first'] })
    }
    if (!Number.isInteger(step) || step < 1 || step > mostStep) {
      const facts = { expected: 'a whole number from 1 on', found: String(step) }
      return problem('value.outOfRange', facts, { path: [of, 'step'] })
    }
    if (first < 1 && letters.includes(of)) return problem('label.noLetter', { counted: of })
  }
  return null
}

/** The labels that a rule gives. O(tables of the rows). */
export function tableLabelsByRule(
  drawing: Drawing,
  rows: readonly number[],
  rule: TableRule,
): Result<readonly LabelledRow[], Problem> {
  const pieces = readLabelPattern(rule.pattern)
  if (!pieces.ok) return pieces
  const wrong = checkCounting({ row: rule.row, table: rule.table }, pieces.value)
  if (wrong) return fail(wrong)
  const walked = walkRows(drawing, rows, rule)
  if (!walked.ok) return walked
  let counted = 0
  return ok(
    walked.value.map((walkedRow, k) => {
      const { row } = walkedRow
      if (rule.counting === 'eachRow') counted = 0
      const facts = { row: rule.row.first + k * rule.row.step, rowName: row.label }
      const tables = Array.from(tablesAlong(walkedRow), (table) => {
        const number = rule.table.first + counted++ * rule.table.step
        return { table, label: writeLabel(pieces.value, { ...facts, table: number }) }
      })
      return { row, tables }
    }),
  )
}

/** The labels that a rule gives to rows, in the order in which they are counted. */
export function rowLabelsByRule(
  drawing: Drawing,
  rows: readonly number[],
  rule: RowRule,
): Result<readonly { readonly row: Row; readonly label: string }[], Problem> {
  const pieces = readLabelPattern(rule.pattern, ['row'])
  if (!pieces.ok) return pieces
  const wrong = checkCounting({ row: rule.row }, pieces.value)
  if (wrong) return fail(wrong)
  const walked = walkRows(drawing, rows, { ...rule, course: 'rowByRow' })
  if (!walked.ok) return walked
  return ok(
    walked.value.map(({ row }, k) => {
      const facts = { row: rule.row.first + k * rule.row.step, table: 0, rowName: row.label }
      return { row, label: writeLabel(pieces.value, facts) }
    }),
  )
}
