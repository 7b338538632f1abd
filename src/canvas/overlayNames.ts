import { toScreen, type PointPx, type View } from './mapTypes.ts'
import { spanIn, type Box } from './overlayCurves.ts'
import type { LabelWish } from './overlayLabels.ts'
import type { RowName, RowNames } from './placeNames.ts'

/** The name of a row or a table as it stands on the map. */
export interface NameText {
  readonly text: string
  /** `plate`: of what is chosen or suspected, on a plate of its own; `row`, `table`: letters alone. */
  readonly weight: 'plate' | 'row' | 'table'
  /** Letters run upwards on the screen, along a row that does. */
  readonly isTurned: boolean
}

export const nameHeightPx = 16
/** Between the end of a row and its name. */
const gapPx = 8
/** Between the names of neighbouring rows. */
const apartPx = 6
const steps = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000] as const

export interface NameRoom {
  readonly view: View
  /** What of the view nothing covers. */
  readonly room: Box
  readonly widthOf: (text: string) => number
}

/** Numbers of the rows whose names come first, whatever the zoom: of what is chosen and of suspects. */
export type RowsWanted = ReadonlySet<number>

/**
 * The names of the rows at both their ends: beside the end where it is in view, else where the row leaves the view.
 * Rows nearer to one another than their names are high, or wide where the rows run upwards, are named by every
 * 2nd, 5th, 10th … O(rows).
 */
export function rowWishes(
  { rows, pitchM }: RowNames,
  wanted: RowsWanted,
  { view, room, widthOf }: NameRoom,
): readonly LabelWish<NameText>[] {
  const first: LabelWish<NameText>[] = []
  const named: LabelWish<NameText>[] = []
  const outermost: LabelWish<NameText>[] = []
  const step = stepOf(rows, pitchM * view.k, widthOf)
  rows.forEach((row, i) => {
    const isWanted = wanted.has(i)
    const isNamed = isWanted || (i + 1) % step === 0
    if (!isNamed && i !== 0 && i !== rows.length - 1) return
    const seen = seenLine(row, view)
    if (!seen) return
    const { text } = row
    const isTurned = step === 1 && isSteep(seen) && pitchM * view.k < widthOf(text) + apartPx
    const weight = isWanted ? 'plate' : 'row'
    const size = isTurned
      ? { widthPx: nameHeightPx, heightPx: widthOf(text) }
      : { widthPx: widthOf(text), heightPx: nameHeightPx }
    const wishes = endPlaces(seen, row.halfM * view.k, size, room).map((places) => ({
      of: { text, weight, isTurned } as const,
      places,
      ...size,
    }))
    if (isWanted) first.push(...wishes)
    else if (isNamed) named.push(...wishes)
    else outermost.push(...wishes)
  })
  return [...first, ...named, ...outermost]
}

/** Every which row has a name: as many as have room side by side, turned along the rows before any is left out. */
function stepOf(rows: readonly RowName[], pitchPx: number, widthOf: (text: string) => number): number {
  if (rows.length < 2 || pitchPx >= nameHeightPx + 1) return 1
  const { fromM, toM, text } = rows[0]
  const needPx = isSteep({ dx: toM.x - fromM.x, dy: toM.y - fromM.y })
    ? widthOf(text) + apartPx
    : nameHeightPx
  return steps.find((step) => step * pitchPx >= needPx) ?? steps[steps.length - 1]
}

export function isSteep({ dx, dy }: { readonly dx: number; readonly dy: number }): boolean {
  return Math.abs(dy) > 1.2 * Math.abs(dx)
}

interface SeenLine {
  readonly from: PointPx
  readonly dx: number
  readonly dy: number
}

/** The middle line of a row on the screen; null where nothing of the row is in view. */
function seenLine({ fromM, toM, halfM }: RowName, view: View): SeenLine | null {
  const from = toScreen(view, fromM)
  const to = toScreen(view, toM)
  const halfPx = halfM * view.k
  const box = { left: -halfPx, top: -halfPx, right: view.widthPx + halfPx, bottom: view.heightPx + halfPx }
  const line = {
    x0: from.x,
    y0: from.y,
    cx: (from.x + to.x) / 2,
    cy: (from.y + to.y) / 2,
    x1: to.x,
    y1: to.y,
  }
  return spanIn(line, box) && { from, dx: to.x - from.x, dy: to.y - from.y }
}

/** Steps inwards, in sizes of the name, where its first place is taken. */
const slides = [0, 1.1, 2.2, 3.5, 5] as const

/** Places for a row's name at either end, the best first; the same end twice is one where hardly any of it is seen. */
function endPlaces(
  { from, dx, dy }: SeenLine,
  halfPx: number,
  { widthPx, heightPx }: { readonly widthPx: number; readonly heightPx: number },
  room: Box,
): readonly (readonly PointPx[])[] {
  const lengthPx = Math.hypot(dx, dy)
  if (lengthPx === 0) return []
  const ux = dx / lengthPx
  const uy = dy / lengthPx
  const reachPx = (Math.abs(ux) * widthPx + Math.abs(uy) * heightPx) / 2
  const inner: Box = {
    left: room.left + widthPx / 2,
    top: room.top + heightPx / 2,
    right: room.right - widthPx / 2,
    bottom: room.bottom - heightPx / 2,
  }
  const outPx = reachPx + gapPx
  const [low, high] = spanAlong(from, ux, uy, inner, halfPx)
  const start = Math.min(Math.max(-outPx, low), high)
  const end = Math.max(Math.min(lengthPx + outPx, high), low)
  if (start > lengthPx || end < 0 || low > high) return []
  const placesFrom = (at: number, inwards: number) =>
    slides
      .map((by) => at + inwards * by * 2 * reachPx)
      .filter((s) => s >= low - 0.5 && s <= high + 0.5 && s >= -outPx - 0.5 && s <= lengthPx + outPx + 0.5)
      .map((s) => heldIn({ x: from.x + s * ux, y: from.y + s * uy }, inner, halfPx))
  if (end - start < 3 * reachPx) return [placesFrom(start, 1)]
  return [placesFrom(start, 1), placesFrom(end, -1)]
}

/** From where to where a line, in pixels from its beginning, runs inside a box that may be missed by so much. */
export function spanAlong(
  { x, y }: PointPx,
  ux: number,
  uy: number,
  box: Box,
  missPx: number,
): readonly [number, number] {
  const acrossX = missPx * Math.abs(uy)
  const acrossY = missPx * Math.abs(ux)
  let low = -Infinity
  let high = Infinity
  for (const [at, towards, least, most] of [
    [x, ux, box.left - acrossX, box.right + acrossX],
    [y, uy, box.top - acrossY, box.bottom + acrossY],
  ]) {
    if (Math.abs(towards) < 1e-6) {
      if (at < least || at > most) return [1, 0]
      continue
    }
    const a = (least - at) / towards
    const b = (most - at) / towards
    low = Math.max(low, Math.min(a, b))
    high = Math.min(high, Math.max(a, b))
  }
  return [low, high]
}

function heldIn({ x, y }: PointPx, { left, top, right, bottom }: Box, mostPx: number): PointPx {
  const hold = (value: number, least: number, most: number) => {
    const held = Math.min(Math.max(value, least), most)
    return Math.abs(held - value) <= mostPx + 1 ? held : value
  }
  return { x: hold(x, left, right), y: hold(y, top, bottom) }
}
