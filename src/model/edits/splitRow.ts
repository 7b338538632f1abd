import { fail } from '../../base/result.ts'
import { labelCounter } from '../countedLabel.ts'
import { roundPointM } from '../motion.ts'
import { problem } from '../problem.ts'
import { byId } from '../queries/byId.ts'
import { findTable, tableCount } from '../queries/tablePosition.ts'
import { readdressDrawing } from '../readdressDrawing.ts'
import { splitRuns } from '../runs.ts'
import type { PointM } from '../schema/primitives.ts'
import type { Row } from '../schema/row.ts'
import { asEdit, commitDrawing, notThere, takeId } from './edit.ts'
import { releaseLost } from './releaseLost.ts'

export interface SplitRow {
  readonly row: number
  /** The last table that stays. */
  readonly afterTable: number
  /** Where the first table behind it stands: the origin of the new row; `tableCornerM` has it. */
  readonly originM: PointM
}

/**
 * Makes two rows of one, where tables stay as they stand: those behind a table become a row of their own. They keep
 * their numbers and painted labels, and all that the drawing says about them goes with them (landings, extra and
 * differing joints, as-built differences, plans). What the record says of them stays under the address of the old
 * row and so loses its place: `orphansOf` tells. The jumpers between the two rows are no more.
 */
export const { can: canSplitRow, edit: splitRow } = asEdit<SplitRow>((site, args) => {
  const row = byId(site.drawing.rows).get(args.row)
  if (!row) return notThere('row', args.row)
  const last = findTable(row, args.afterTable)
  if (!last) return notThere('table', `R${row.id}/T${args.afterTable}`)
  if (last.position === tableCount(row) - 1) {
    const reason = 'no table stands behind the last one of a row, so that nothing is left for a second row'
    return fail(problem('value.inconsistent', { reason }, { address: `R${row.id}/T${args.afterTable}` }))
  }
  const [id, counted] = takeId(site.drawing, 'row')
  const [before, after] = splitRuns(row.runs, last.position + 1)
  const label = labelCounter(site.drawing.rows.map((one) => one.label))(row.label)
  const first = withTables(row, before)
  const second = { ...withTables(row, after), id, label, originM: roundPointM(args.originM) }
  const isMoved = (table: number) => findTable(second, table) !== null
  const renamed = readdressDrawing(site.drawing, {
    idOf: (sort, old) => (sort === 'row' && old === row.id ? id : null),
    tableOf: (old, table) => (old === row.id && isMoved(table) ? table : null),
    pointOf: () => null,
  })
  const rows = site.drawing.rows.flatMap((one) => (one === row ? [first, second] : [one]))
  return commitDrawing(site, releaseLost({ ...renamed, ...counted, rows }))
})

function withTables(row: Row, runs: Row['runs']): Row {
  const part = { ...row, runs }
  const labels = Object.entries(row.tableLabels).filter(([table]) => findTable(part, Number(table)))
  return { ...part, tableLabels: Object.fromEntries(labels) }
}
