import { distanceM } from '../../layout/path.ts'
import { tableSize } from '../../layout/tableSize.ts'
import { limits } from '../../model/limits.ts'
import { byId } from '../../model/queries/byId.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import type { Row } from '../../model/schema/row.ts'
import { bearingDegOf, directionOf, wholeTurnDeg } from './bearing.ts'
import type { DrawContext, DrawPoint } from './drawTool.ts'
import { alongM, betweenM, shiftedM } from './places.ts'
import { fitSlackM } from './rowFit.ts'
import type { Snapped } from './snap.ts'
import { snapHere } from './snap.ts'

export interface PulledRow {
  readonly tables: number
  readonly lengthM: number
  readonly bearingDeg: number
  readonly snapped: Snapped
}

/**
 * What a row becomes when its free end is pulled: as many tables as fit, of the last type where it grows; its
 * direction stays unless the end is pulled away from it, and always while held straight.
 */
export function pullRowEnd(row: Row, from: DrawPoint, at: DrawPoint, context: DrawContext): PulledRow {
  const fromM = row.originM
  const end = alongM(fromM, directionOf(row.bearingDeg), rowLengthNow(context.drawing, row))
  const target = { ...at, atM: shiftedM(end, betweenM(from.atM, at.atM)) }
  const others = context.drawing.rows.filter((other) => other !== row).map(({ bearingDeg }) => bearingDeg)
  const turned = wholeTurnDeg(row.bearingDeg + 180)
  const catchDeg = at.isAdding ? [] : [...new Set([row.bearingDeg, turned, 0, 90, 180, 270, ...others])]
  const snapped = snapHere(context, target, {
    fromM,
    isStraight: at.isAdding,
    straightDeg: row.bearingDeg,
    alongDeg: row.bearingDeg,
    catchDeg,
    anchorsNear: (atM, withinM) => context.anchorsNear(atM, withinM, [{ sort: 'row', id: row.id }]),
  })
  const drawnM = distanceM(fromM, snapped.atM)
  const bearingDeg = snapped.bearingDeg ?? (drawnM > 0 ? bearingDegOf(fromM, snapped.atM) : row.bearingDeg)
  return { ...tablesWithin(context.drawing, row, drawnM), bearingDeg, snapped }
}

function rowLengthNow(drawing: Drawing, row: Row): number {
  return tablesWithin(drawing, row, Infinity, false).lengthM
}

/** As many tables of a row as a length holds, at least one; beyond its end more of the last type. O(runs). */
function tablesWithin(
  drawing: Drawing,
  row: Row,
  withinM: number,
  grows = true,
): { readonly tables: number; readonly lengthM: number } {
  const types = byId(drawing.tableTypes)
  let tables = 0
  let lengthM = -row.gapM
  for (const [k, { count, type: typeId }] of row.runs.entries()) {
    const type = types.get(typeId)
    if (!type) continue
    const stepM = tableSize(type).alongM + row.gapM
    const isLast = k === row.runs.length - 1
    const most = isLast && grows ? limits.tablesPerRow - tables : count
    const fitting = Math.min(Math.floor((withinM - lengthM + fitSlackM) / stepM), most)
    const taken = Math.max(fitting, tables === 0 ? 1 : 0)
    tables += taken
    lengthM += taken * stepM
    if (taken < count) break
  }
  return { tables, lengthM }
}

/** Outline of a row pulled to another length and direction, as high as the highest of its tables. */
export function pulledOutline(
  drawing: Drawing,
  row: Row,
  { lengthM, bearingDeg }: PulledRow,
): readonly PointM[] {
  const types = byId(drawing.tableTypes)
  const upM = Math.max(...row.runs.map(({ type }) => (types.has(type) ? tableSize(types.get(type)!).upM : 0)))
  const along = directionOf(bearingDeg)
  const up = { x: -along.y, y: along.x }
  const end = alongM(row.originM, along, lengthM)
  return [row.originM, end, alongM(end, up, upM), alongM(row.originM, up, upM)]
}
