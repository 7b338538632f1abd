import type { Result } from '../../base/result.ts'
import { fail, ok } from '../../base/result.ts'
import type { Problem } from '../problem.ts'
import { problem } from '../problem.ts'
import { byId } from '../queries/byId.ts'
import type { Drawing } from '../schema/drawing.ts'
import type { PointM } from '../schema/primitives.ts'
import type { Row } from '../schema/row.ts'

export type Corner = 'southWest' | 'southEast' | 'northWest' | 'northEast'

/** In which order somebody goes along the tables of several rows. */
export interface TableWalk {
  /** The corner of the field where it begins: it says which end of each row comes first. */
  readonly start: Corner
  /** Which row comes first: the one nearest to that corner, or as the rows are listed. */
  readonly rowOrder: 'fromCorner' | 'asListed'
  /** Each row from the same end, or every other row back from the other end. */
  readonly course: 'rowByRow' | 'serpentine'
}

export interface WalkedRow {
  readonly row: Row
  /** From the row's last table to its first. */
  readonly isBackwards: boolean
}

/** Rows whose lines are nearer to each other than this stand in one line, one behind the other. */
const sameLineM = 0.25

const outwards: Readonly<Record<Corner, PointM>> = {
  southWest: { x: -1, y: -1 },
  southEast: { x: 1, y: -1 },
  northWest: { x: -1, y: 1 },
  northEast: { x: 1, y: 1 },
}

/**
 * The rows in the order in which they are walked, a row given twice once. Rows are put in order across their common
 * direction, the line nearest to the corner first; those in one line one behind the other. O(rows log rows).
 */
export function walkRows(
  drawing: Drawing,
  ids: readonly number[],
  walk: TableWalk,
): Result<readonly WalkedRow[], Problem> {
  const known = byId(drawing.rows)
  const missing = ids.find((id) => !known.has(id))
  if (missing !== undefined) return fail(problem('edit.notThere', { what: 'row', id: String(missing) }))
  const listed = [...new Set(ids)].map((id) => known.get(id)!)
  const corner = outwards[walk.start]
  const rows = walk.rowOrder === 'asListed' ? listed : fromCorner(listed, corner)
  return ok(
    rows.map((row, k) => {
      const isAway = isTowards(directionOf(row.bearingDeg), corner)
      return { row, isBackwards: walk.course === 'serpentine' && k % 2 === 1 ? !isAway : isAway }
    }),
  )
}

/** The ids of a row's tables in the order in which they are walked. */
export function* tablesAlong({ row, isBackwards }: WalkedRow): Generator<number> {
  const runs = isBackwards ? row.runs.toReversed() : row.runs
  for (const { firstTable, count } of runs) {
    for (let k = 0; k < count; k++) yield firstTable + (isBackwards ? count - 1 - k : k)
  }
}

function directionOf(bearingDeg: number): PointM {
  const bearing = (bearingDeg * Math.PI) / 180
  return { x: Math.sin(bearing), y: Math.cos(bearing) }
}

const dot = (a: PointM, b: PointM) => a.x * b.x + a.y * b.y

/** Whether a direction leads to a corner; one square to it leads to its east or west. */
function isTowards(direction: PointM, corner: PointM): boolean {
  const share = dot(direction, corner)
  return Math.abs(share) > 1e-9 ? share > 0 : direction.x * corner.x > 0
}

function fromCorner(rows: readonly Row[], corner: PointM): Row[] {
  const away = (direction: PointM) =>
    isTowards(direction, corner) ? { x: -direction.x, y: -direction.y } : direction
  const along = away(commonDirection(rows))
  const across = away({ x: along.y, y: -along.x })
  const placed = rows.map((row) => {
    // A metre into the row: where two rows begin at one point, it tells which of them lies on which side.
    const { x, y } = directionOf(row.bearingDeg)
    const inside = { x: row.originM.x + x, y: row.originM.y + y }
    return { row, acrossM: dot(inside, across), alongM: dot(inside, along) }
  })
  placed.sort((a, b) => a.acrossM - b.acrossM)
  let line = 0
  const inLines = placed.map((one, k) => {
    if (k > 0 && one.acrossM - placed[k - 1].acrossM > sameLineM) line++
    return { ...one, line }
  })
  return inLines.sort((a, b) => a.line - b.line || a.alongM - b.alongM).map(({ row }) => row)
}

/** The mean direction of rows, whichever way they run: angles are doubled, so that opposite ones are alike. */
function commonDirection(rows: readonly Row[]): PointM {
  let [sin, cos] = [0, 0]
  for (const { bearingDeg } of rows) {
    const doubled = (2 * bearingDeg * Math.PI) / 180
    sin += Math.sin(doubled)
    cos += Math.cos(doubled)
  }
  return directionOf(((Math.atan2(sin, cos) / 2) * 180) / Math.PI)
}
