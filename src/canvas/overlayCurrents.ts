import { currentWidthPx, fullCurrentPx, leastCurrent } from './drawMarks.ts'
import type { MapGeometry } from './geometry.ts'
import type { PointPx, View } from './mapTypes.ts'
import { jointWayM } from './markPoints.ts'

/** The longest straight piece of each joint that carries current, in the current's direction; strongest first. */
export interface CurrentWays {
  readonly endsM: Float64Array
  readonly perAmpere: Float32Array
}

export interface CurrentArrow {
  readonly at: PointPx
  readonly towards: PointPx
  readonly sizePx: number
}

/** O(joints + carrying joints log). */
export function currentWays(geometry: MapGeometry, perAmpere: Float32Array): CurrentWays {
  const carrying: number[] = []
  for (let joint = 0; joint < perAmpere.length; joint++) {
    if (Math.abs(perAmpere[joint]) >= leastCurrent) carrying.push(joint)
  }
  carrying.sort((a, b) => Math.abs(perAmpere[b]) - Math.abs(perAmpere[a]) || a - b)
  const ends: number[] = []
  const shares: number[] = []
  for (const joint of carrying) {
    const way = jointWayM(geometry, joint)
    let longest = -1
    let longestM = 0
    for (let i = 0; i + 1 < way.length; i++) {
      const lengthM = Math.hypot(way[i + 1].x - way[i].x, way[i + 1].y - way[i].y)
      if (lengthM > longestM) [longest, longestM] = [i, lengthM]
    }
    if (longest < 0) continue
    const [from, to] =
      perAmpere[joint] > 0 ? [way[longest], way[longest + 1]] : [way[longest + 1], way[longest]]
    ends.push(from.x, from.y, to.x, to.y)
    shares.push(Math.abs(perAmpere[joint]))
  }
  return { endsM: Float64Array.from(ends), perAmpere: Float32Array.from(shares) }
}

const arrowsApartPx = 26
const mostArrows = 160
/** An arrow needs a piece of line that is at least this share of its own length, else it points at nothing. */
const leastPieceShare = 0.6

/**
 * Arrows in the middle of the pieces that are seen, strongest first, so far apart that each can be told from
 * the next. O(pieces) by a grid of cells.
 */
export function currentArrows(
  { endsM, perAmpere }: CurrentWays,
  view: View,
  leastShare = 0,
  widestPx = fullCurrentPx,
): readonly CurrentArrow[] {
  const arrows: CurrentArrow[] = []
  const cells = new Set<string>()
  for (let i = 0; i < perAmpere.length && arrows.length < mostArrows; i++) {
    if (perAmpere[i] < leastShare) break
    const x0 = view.x + view.k * endsM[4 * i]
    const y0 = view.y - view.k * endsM[4 * i + 1]
    const dx = view.k * (endsM[4 * i + 2] - endsM[4 * i])
    const dy = -view.k * (endsM[4 * i + 3] - endsM[4 * i + 1])
    const at = { x: x0 + dx / 2, y: y0 + dy / 2 }
    if (at.x < 0 || at.y < 0 || at.x > view.widthPx || at.y > view.heightPx) continue
    const lengthPx = Math.hypot(dx, dy)
    const sizePx = currentWidthPx(perAmpere[i], widestPx) + 6
    if (lengthPx < leastPieceShare * sizePx) continue
    const column = Math.round(at.x / arrowsApartPx)
    const row = Math.round(at.y / arrowsApartPx)
    if (cells.has(`${column} ${row}`)) continue
    for (let c = -1; c <= 1; c++) for (let r = -1; r <= 1; r++) cells.add(`${column + c} ${row + r}`)
    arrows.push({ at, towards: { x: dx / lengthPx, y: dy / lengthPx }, sizePx })
  }
  return arrows
}
