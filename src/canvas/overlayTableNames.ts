import { jumperEnds } from '../layout/jointIndex.ts'
import { lastAtMost } from '../layout/idLookup.ts'
import type { TableSpot } from '../layout/rowIndex.ts'
import { tableCornersM, tablePointM, typeOfRun, type MapGeometry } from './geometry.ts'
import { toScreen, visibleRectM, type PointPx } from './mapTypes.ts'
import { tableOfPart } from './markPoints.ts'
import { isSteep, nameHeightPx, spanAlong, type NameRoom, type NameText } from './overlayNames.ts'
import type { LabelWish } from './overlayLabels.ts'
import { placesIn } from './placesIn.ts'
import { tableText } from './placeNames.ts'

/** A name may take so much of its table. */
const mostShare = 0.12
const mostTableNames = 60
const insideXPx = 6
const insideYPx = 4
const outsidePx = 3

/**
 * Names of the tables in view, inside them, once they have room; without those that are named elsewhere; none where
 * there would be more than can be read. O(tables in view).
 */
export function tableWishes(
  geometry: MapGeometry,
  named: readonly TableSpot[],
  room: NameRoom,
): readonly LabelWish<NameText>[] {
  const { view } = room
  const { runs } = geometry
  const seenM = visibleRectM(view)
  const wishes: LabelWish<NameText>[] = []
  for (let run = 0; run < runs.count; run++) {
    const { alongM, upM } = typeOfRun(geometry, run).pattern.size
    if (alongM * upM * view.k ** 2 * mostShare < nameHeightPx * leastWidthPx) continue
    const { first, last } = placesIn(geometry, run, seenM)
    if (wishes.length + last - first >= mostTableNames) return []
    for (let place = first; place <= last; place++) {
      if (named.some((spot) => spot.run === run && spot.place === place)) continue
      wishes.push(...insideWish(geometry, { run, place }, room))
    }
  }
  return wishes
}

/** No name is narrower. */
const leastWidthPx = 18

function insideWish(
  geometry: MapGeometry,
  spot: TableSpot,
  { view, room, widthOf }: NameRoom,
): readonly LabelWish<NameText>[] {
  const { runs, index } = geometry
  const { size } = typeOfRun(geometry, spot.run).pattern
  const [alongPx, upPx] = [size.alongM * view.k, size.upM * view.k]
  const text = tableText(index, spot)
  const longPx = widthOf(text)
  if (longPx * nameHeightPx > mostShare * alongPx * upPx) return []
  const [ux, uy] = [runs.alongX[spot.run], -runs.alongY[spot.run]]
  const [vx, vy] = [uy, -ux]
  for (const isTurned of isSteep({ dx: ux, dy: uy }) ? [false, true] : [false]) {
    const [widthPx, heightPx] = isTurned ? [nameHeightPx, longPx] : [longPx, nameHeightPx]
    const reachAlong = (Math.abs(ux) * widthPx + Math.abs(uy) * heightPx) / 2 + insideXPx
    const reachUp = (Math.abs(uy) * widthPx + Math.abs(ux) * heightPx) / 2 + insideYPx
    if (2 * reachUp > upPx || 2 * reachAlong > alongPx) continue
    const inner = {
      left: room.left + widthPx / 2,
      top: room.top + heightPx / 2,
      right: room.right - widthPx / 2,
      bottom: room.bottom - heightPx / 2,
    }
    const corner = toScreen(view, tablePointM(geometry, spot, 0, 0))
    const places = [upPx - reachUp, reachUp, upPx / 2].flatMap((up): PointPx[] => {
      const from = { x: corner.x + up * vx, y: corner.y + up * vy }
      const [low, high] = spanAlong(from, ux, uy, inner, 0)
      const [start, end] = [Math.max(low, reachAlong), Math.min(high, alongPx - reachAlong)]
      if (start > end) return []
      return [start, end, (start + end) / 2].map((s) => ({ x: from.x + s * ux, y: from.y + s * uy }))
    })
    return [{ of: { text, weight: 'table', isTurned }, places, widthPx, heightPx }]
  }
  return []
}

/** Names of single tables at every zoom: on their edges, outside, so that they hide nothing of them. */
export function edgeWishes(
  geometry: MapGeometry,
  spots: readonly TableSpot[],
  { view, widthOf }: NameRoom,
): readonly LabelWish<NameText>[] {
  return spots.map((spot): LabelWish<NameText> => {
    const corners = tableCornersM(geometry, spot).map((corner) => toScreen(view, corner))
    const left = Math.min(...corners.map(({ x }) => x))
    const right = Math.max(...corners.map(({ x }) => x))
    const top = Math.min(...corners.map(({ y }) => y))
    const bottom = Math.max(...corners.map(({ y }) => y))
    const text = tableText(geometry.index, spot)
    const widthPx = widthOf(text)
    const [above, below] = [top - nameHeightPx / 2 - outsidePx, bottom + nameHeightPx / 2 + outsidePx]
    const middle = (left + right) / 2
    const [atLeft, atRight] = [left + widthPx / 2, right - widthPx / 2].map((x) =>
      held(x, widthPx, view.widthPx),
    )
    const [besideX, beyondX] = [left - widthPx / 2 - outsidePx, right + widthPx / 2 + outsidePx]
    const level = held((top + bottom) / 2, nameHeightPx, view.heightPx)
    const places = [
      { x: atLeft, y: above },
      { x: atLeft, y: below },
      { x: atRight, y: above },
      { x: atRight, y: below },
      { x: middle, y: above },
      { x: middle, y: below },
      { x: besideX, y: level },
      { x: beyondX, y: level },
      { x: atLeft, y: held(above, nameHeightPx, view.heightPx) },
      { x: atRight, y: held(below, nameHeightPx, view.heightPx) },
    ]
    return { of: { text, weight: 'plate', isTurned: false }, places, widthPx, heightPx: nameHeightPx }
  })
}

function held(middle: number, sizePx: number, withinPx: number): number {
  return Math.min(Math.max(middle, sizePx / 2 + 4), withinPx - sizePx / 2 - 4)
}

/** The tables at a joint: its own, the two that a jumper joins; none for a joint of no table. O(log runs). */
export function tablesOfJoint(geometry: MapGeometry, joint: number): readonly TableSpot[] {
  const { index } = geometry
  if (joint < 0 || joint >= index.conductorJointStart) return []
  const { runs, jumperStart } = index.rows
  const run = lastAtMost(runs.jointStart, joint, 0, runs.jointStart.length)
  const row = runs.row[run]
  if (joint < jumperStart[row]) {
    const place = Math.floor((joint - runs.jointStart[run]) / typeOfRun(geometry, run).pattern.jointCount)
    return [{ run, place }]
  }
  const { count } = index.drawing.rows[row].links
  const inGaps = joint - jumperStart[row]
  const { from, to } = jumperEnds(index, row, Math.floor(inGaps / count), (inGaps % count) + 1)
  return [from, to].flatMap((part) => tableOfPart(geometry, part) ?? [])
}
