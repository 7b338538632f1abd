import type { PointM } from '../../model/schema/primitives.ts'
import type { TableSize } from '../../layout/tableSize.ts'
import { cornerOf } from '../tables/planTables.ts'
import { positiveDeg } from '../tables/placedRows.ts'

export interface OutlinedTable {
  readonly x: number
  readonly y: number
  readonly bearingDeg: number
}

/** Sides of an outline may differ from the table's by so much; its middle is where the table stands. */
const sideWithinM = 0.05
const sideWithinShare = 0.02
const toDeg = 180 / Math.PI

/** The sides of an outline of four corners, the longer first; null where it is no rectangle. */
export function rectangleSides(
  outline: readonly PointM[],
): { readonly longM: number; readonly shortM: number } | null {
  const corners = fourCorners(outline)
  if (corners === null) return null
  const [a, b, c, d] = corners
  const one = (length(a, b) + length(d, c)) / 2
  const other = (length(b, c) + length(a, d)) / 2
  return { longM: Math.max(one, other), shortM: Math.min(one, other) }
}

/**
 * The table that fills an outline in plan; null where the outline is no rectangle of its size. Two edges of the outline can be
 * the lower one: `bearingDeg` chooses between them where the file gives it, else the way that tables face.
 */
export function tableInOutline(
  outline: readonly PointM[],
  size: Pick<TableSize, 'alongM' | 'upM'>,
  bearingDeg: number | null,
  facingDeg: number,
): OutlinedTable | null {
  const corners = fourCorners(outline)
  if (corners === null) return null
  const middle = {
    x: corners.reduce((sum, { x }) => sum + x / 4, 0),
    y: corners.reduce((sum, { y }) => sum + y / 4, 0),
  }
  const wanted = bearingDeg ?? facingDeg - 90
  let best: OutlinedTable | null = null
  let leastTurn = Infinity
  for (let edge = 0; edge < 4; edge++) {
    const [a, b, c, d] = [0, 1, 2, 3].map((k) => corners[(edge + k) % 4])
    if (!isNear(length(a, b), size.alongM) || !isNear(length(b, c), size.upM)) continue
    // both long edges have a say in the direction
    const bearing = positiveDeg(Math.atan2(b.x - a.x + c.x - d.x, b.y - a.y + c.y - d.y) * toDeg)
    const turn = Math.abs(((((bearing - wanted + 180) % 360) + 360) % 360) - 180)
    if (turn >= leastTurn) continue
    leastTurn = turn
    best = { ...cornerOf(middle, bearing, size), bearingDeg: bearing }
  }
  return best
}

function isNear(foundM: number, wantedM: number): boolean {
  return Math.abs(foundM - wantedM) <= Math.max(sideWithinM, sideWithinShare * wantedM)
}

function length(a: PointM, b: PointM): number {
  return Math.hypot(b.x - a.x, b.y - a.y)
}

/** Corners counter-clockwise, points along an edge left out; null where they make no rectangle. */
function fourCorners(outline: readonly PointM[]): PointM[] | null {
  const n = outline.length
  if (n < 4 || n > 64) return null
  const corners = outline.filter((point, k) => {
    const before = outline[(k + n - 1) % n]
    const after = outline[(k + 1) % n]
    return Math.abs(turnOf(before, point, after)) > 0.2
  })
  if (corners.length !== 4) return null
  const [a, b, c, d] = corners
  const isRight = corners.every((point, k) => {
    const sine = turnOf(corners[(k + 3) % 4], point, corners[(k + 1) % 4])
    return Math.abs(sine) > 0.99
  })
  if (!isRight) return null
  const area = (c.x - a.x) * (d.y - b.y) - (d.x - b.x) * (c.y - a.y)
  return area > 0 ? corners : corners.reverse()
}

/** Sine of the angle at a point. */
function turnOf(before: PointM, at: PointM, after: PointM): number {
  const [ax, ay, bx, by] = [at.x - before.x, at.y - before.y, after.x - at.x, after.y - at.y]
  const lengths = Math.hypot(ax, ay) * Math.hypot(bx, by)
  return lengths === 0 ? 0 : (ax * by - ay * bx) / lengths
}
