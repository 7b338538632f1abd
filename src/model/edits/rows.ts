import { byId } from '../queries/byId.ts'
import type { Row } from '../schema/row.ts'
import type { PointM } from '../schema/primitives.ts'
import { asEdit, commitDrawing, notThere, replaceItem, takeId } from './edit.ts'
import { releaseLost } from './releaseLost.ts'

export interface AddRow {
  readonly label: string
  readonly originM: PointM
  readonly bearingDeg: number
  readonly gapM: number
  readonly type: string
  readonly tables: number
  readonly links: Row['links']
}

/** A new row of tables of one type, numbered from 1. */
export const { can: canAddRow, edit: addRow } = asEdit<AddRow>((site, { type, tables, ...fields }) => {
  const [id, counted] = takeId(site.drawing, 'row')
  const runs = [{ firstTable: 1, count: tables, type }]
  const row = { id, ...fields, runs, nextTable: tables + 1, tableLabels: {} }
  return commitDrawing(site, { ...counted, rows: [...site.drawing.rows, row] })
})

export interface ChangeRow {
  readonly row: number
  readonly changes: Partial<Pick<Row, 'label' | 'originM' | 'bearingDeg' | 'gapM' | 'links'>>
}

/** Renames, turns, spaces or links a row otherwise. */
export const { can: canChangeRow, edit: changeRow } = asEdit<ChangeRow>((site, { row, changes }) => {
  const old = byId(site.drawing.rows).get(row)
  if (!old) return notThere('row', row)
  const drawing = { ...site.drawing, rows: replaceItem(site.drawing.rows, old, changes) }
  return commitDrawing(site, drawing)
})

export interface MoveRows {
  readonly rows: readonly number[]
  readonly byM: PointM
}

/** Moves rows together, as a drag or a nudge does. Conductors that land on them stay where they were drawn. */
export const { can: canMoveRows, edit: moveRows } = asEdit<MoveRows>((site, { rows, byM }) => {
  const known = byId(site.drawing.rows)
  const missing = rows.find((row) => !known.has(row))
  if (missing !== undefined) return notThere('row', missing)
  if (rows.length === 0 || (byM.x === 0 && byM.y === 0)) return { ok: true, value: site }
  const moved = new Set(rows)
  const shift = (row: Row) => ({ ...row, originM: { x: row.originM.x + byM.x, y: row.originM.y + byM.y } })
  return commitDrawing(site, { rows: site.drawing.rows.map((row) => (moved.has(row.id) ? shift(row) : row)) })
})

export interface CopyRow {
  readonly row: number
  readonly label: string
  readonly originM: PointM
}

/** A row like another: same tables in the same order, numbered afresh, without their painted labels. */
export const { can: canCopyRow, edit: copyRow } = asEdit<CopyRow>((site, { row, label, originM }) => {
  const old = byId(site.drawing.rows).get(row)
  if (!old) return notThere('row', row)
  const [id, counted] = takeId(site.drawing, 'row')
  let nextTable = 1
  const runs = old.runs.map(({ count, type }) => {
    const firstTable = nextTable
    nextTable += count
    return { firstTable, count, type }
  })
  const copy = { ...old, id, label, originM, runs, nextTable, tableLabels: {} }
  return commitDrawing(site, { ...counted, rows: [...site.drawing.rows, copy] })
})

export interface RemoveRows {
  readonly rows: readonly number[]
}

/** Removes rows; what was measured on them stays in the record (see `orphansOf`). Their ids do not come back. */
export const { can: canRemoveRows, edit: removeRows } = asEdit<RemoveRows>((site, { rows }) => {
  const known = byId(site.drawing.rows)
  const missing = rows.find((row) => !known.has(row))
  if (missing !== undefined) return notThere('row', missing)
  if (rows.length === 0) return { ok: true, value: site }
  const gone = new Set(rows)
  const left = site.drawing.rows.filter((row) => !gone.has(row.id))
  return commitDrawing(site, releaseLost({ ...site.drawing, rows: left }))
})
