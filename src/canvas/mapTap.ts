import type { Tap } from '../tools/tap.ts'
import { tableCornersM, type MapGeometry } from './geometry.ts'
import type { HitIndex } from './hitIndex.ts'
import { levelOf } from './lod.ts'
import { toWorld, type PointPx, type RectM, type View } from './mapTypes.ts'
import { partPointM } from './markPoints.ts'
import type { Overlay } from './overlay.ts'

/** What lies so near to the pointer is right under it. */
const directPx = 2
/** A joint so near to a place belongs to it, however far the map is zoomed in. */
const jointReachM = 1.2

/** The part under a place of the screen: what lies right there before what is only within reach; −1 for none. */
export function partUnder(
  geometry: MapGeometry,
  hits: HitIndex,
  view: View,
  at: PointPx,
  reachPx: number,
): number {
  const { x, y } = toWorld(view, at)
  const level = levelOf(view.k, geometry)
  const direct = hits.partAt(x, y, directPx / view.k, level)
  return direct >= 0 ? direct : hits.partAt(x, y, reachPx / view.k, level)
}

const aroundTableM = 0.5

/** The box in plan of the table at or near a place of the screen, with a little around it; null where there is none. */
export function tableRectAt(
  geometry: MapGeometry,
  hits: HitIndex,
  view: View,
  at: PointPx,
  reachPx: number,
): RectM | null {
  const { x, y } = toWorld(view, at)
  const table = hits.tableAt(x, y, reachPx / view.k)
  if (!table) return null
  const corners = tableCornersM(geometry, table, aroundTableM)
  const xs = corners.map((corner) => corner.x)
  const ys = corners.map((corner) => corner.y)
  return { minX: Math.min(...xs), minY: Math.min(...ys), maxX: Math.max(...xs), maxY: Math.max(...ys) }
}

/** All that a tap at a place of the screen may mean. */
export function tapUnder(
  geometry: MapGeometry,
  hits: HitIndex,
  overlay: Pick<Overlay, 'markAt' | 'readingAt'>,
  view: View,
  at: PointPx,
  reachPx: number,
): Tap {
  const place = toWorld(view, at)
  const reachM = reachPx / view.k
  const hasJoints = levelOf(view.k, geometry) !== 'tables'
  return {
    at: place,
    reachM,
    mark: overlay.markAt(at, reachPx),
    part: partUnder(geometry, hits, view, at, reachPx),
    joint: hasJoints ? hits.jointAt(place.x, place.y, Math.max(reachM, jointReachM)) : -1,
    reading: overlay.readingAt(at, reachPx),
    // From far a table is as thin as a line: near enough is on it.
    table: hits.tableAt(place.x, place.y, hasJoints ? 0 : reachM),
  }
}

/** What choosing a part by the keyboard may mean: the part, the joint nearest to it, its table. */
export function tapOn(geometry: MapGeometry, hits: HitIndex, part: number): Tap {
  const at = partPointM(geometry, part)!
  return {
    at,
    reachM: jointReachM,
    mark: null,
    part,
    joint: hits.jointAt(at.x, at.y, jointReachM),
    reading: null,
    table: hits.tableAt(at.x, at.y),
  }
}
