import type { GroundMarks, GroundPicture } from '../state/mapMarks.ts'
import { groundContours } from './groundContours.ts'
import { toScreen, type PointPx, type View } from './mapTypes.ts'
import { labelFamily } from './overlayDraw.ts'
import type { Box } from './overlayCurves.ts'
import { boxAround, isInside, type LabelWish, type PlacedLabel } from './overlayLabels.ts'
import type { Palette } from './palette.ts'
import { voltSteps } from './voltSteps.ts'

type Context = CanvasRenderingContext2D

/** A value on a line of equal volts. */
export interface GroundLabel {
  readonly text: string
}

const font = `700 11px ${labelFamily}`
export const groundLabelPx = { widthPx: 40, heightPx: 15 } as const
/** A line has a value for so much of it, at the first place of these that has room. */
const perValuePx = 240
const triedPx = 12
const leastLinePx = 60

/** Values on the lines of the ground, on bare ground alone; long lines first. */
export function groundWishes(
  ground: GroundPicture,
  view: View,
  within: Box,
  isBare: (at: PointPx) => boolean,
  write: (volt: number) => string,
): readonly LabelWish<GroundLabel>[] {
  const lines = groundContours(ground).flatMap(({ step, lines }) =>
    lines.map((line) => ({ step, points: line.map((point) => toScreen(view, point)) })),
  )
  return lines
    .map(({ step, points }) => ({ step, ...placesOn(points, within, isBare) }))
    .filter(({ lengthPx }) => lengthPx >= leastLinePx)
    .sort((a, b) => b.lengthPx - a.lengthPx)
    .flatMap(({ step, stretches }) =>
      stretches.map((places) => ({ of: { text: write(voltSteps[step]) }, ...groundLabelPx, places })),
    )
}

/** By stretches of a line the points at which a label would cover no table, and how much of the line is in sight. */
function placesOn(points: readonly PointPx[], within: Box, isBare: (at: PointPx) => boolean) {
  const stretches: PointPx[][] = []
  const halfPx = groundLabelPx.widthPx / 2
  let lengthPx = 0
  let since = triedPx
  for (let p = 1; p < points.length; p++) {
    const [a, b] = [points[p - 1], points[p]]
    if (b.x < within.left || b.x > within.right || b.y < within.top || b.y > within.bottom) continue
    const size = Math.hypot(b.x - a.x, b.y - a.y)
    lengthPx += size
    since += size
    if (since < triedPx || !isInside(boxAround(b, groundLabelPx.widthPx, groundLabelPx.heightPx), within))
      continue
    since = 0
    if (![-halfPx, 0, halfPx].every((dx) => isBare({ x: b.x + dx, y: b.y }))) continue
    const stretch = Math.floor(lengthPx / perValuePx)
    ;(stretches[stretch] ??= []).push(b)
  }
  return { stretches: stretches.filter((places) => places.length > 0).map(middleFirst), lengthPx }
}

/** The middle of a stretch before its ends: values of neighbouring stretches then stand apart. */
function middleFirst(places: readonly PointPx[]): readonly PointPx[] {
  const middle = (places.length - 1) / 2
  return places
    .map((place, k) => ({ place, off: Math.abs(k - middle) }))
    .sort((a, b) => a.off - b.off)
    .map(({ place }) => place)
}

export function drawGroundLabels(
  context: Context,
  labels: readonly PlacedLabel<GroundLabel>[],
  palette: Palette,
): void {
  context.font = font
  context.textAlign = 'center'
  context.textBaseline = 'middle'
  context.lineJoin = 'round'
  context.setLineDash([])
  for (const { of, box } of labels) {
    const x = (box.left + box.right) / 2
    const y = (box.top + box.bottom) / 2 + 0.5
    context.lineWidth = 4
    context.strokeStyle = palette.halo
    context.strokeText(of.text, x, y)
    context.fillStyle = palette.label
    context.fillText(of.text, x, y)
  }
}

/** Where the largest step is, and where somebody stands: two feet one metre apart, symbols that keep their size. */
export function drawGroundMarks(
  context: Context,
  { mostStep, stand }: GroundMarks,
  view: View,
  palette: Palette,
): void {
  context.save()
  context.setLineDash([])
  if (mostStep)
    drawStep(context, toScreen(view, mostStep.fromM), toScreen(view, mostStep.toM), palette, false)
  if (stand) drawStep(context, toScreen(view, stand.atM), toScreen(view, stand.otherM), palette, true)
  context.restore()
}

const leastApartPx = 20
const standPx = 24

/** Two soles, the one at the place itself; that of somebody who stands there has a stem to a flag, the largest step an exclamation. */
export function drawStep(
  context: Context,
  at: PointPx,
  other: PointPx,
  palette: Palette,
  isStand: boolean,
): void {
  const size = Math.hypot(other.x - at.x, other.y - at.y)
  const reach = Math.max(size, leastApartPx)
  const way = size > 0 ? { x: (other.x - at.x) / size, y: (other.y - at.y) / size } : { x: 1, y: 0 }
  const end = { x: at.x + way.x * reach, y: at.y + way.y * reach }
  for (const [widthPx, ink] of [
    [6, palette.halo],
    [2.5, palette.label],
  ] as const) {
    context.lineWidth = widthPx
    context.strokeStyle = ink
    context.beginPath()
    context.moveTo(at.x, at.y)
    context.lineTo(end.x, end.y)
    if (isStand) {
      context.moveTo(at.x, at.y)
      context.lineTo(at.x, at.y - standPx)
    }
    context.stroke()
  }
  for (const foot of [at, end]) sole(context, foot, palette)
  const head = isStand ? { x: at.x, y: at.y - standPx } : middleOf(at, end)
  disc(context, head, 11, palette.halo)
  disc(context, head, 9, palette.label)
  context.fillStyle = palette.labelPlate
  context.font = `800 13px ${labelFamily}`
  context.textAlign = 'center'
  context.textBaseline = 'middle'
  context.fillText(isStand ? 'V' : '!', head.x, head.y + 0.5)
}

function middleOf(a: PointPx, b: PointPx): PointPx {
  return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }
}

function sole(context: Context, at: PointPx, palette: Palette): void {
  disc(context, at, 6, palette.halo)
  disc(context, at, 4.5, palette.label)
  disc(context, at, 2, palette.labelPlate)
}

function disc(context: Context, { x, y }: PointPx, radius: number, ink: string): void {
  context.beginPath()
  context.arc(x, y, radius, 0, 2 * Math.PI)
  context.fillStyle = ink
  context.fill()
}
