import { toScreen, type PointPx, type View } from './mapTypes.ts'
import type { CurrentArrow } from './overlayCurrents.ts'
import { arcBetween, pointOn, type Box, type Curve } from './overlayCurves.ts'
import type { PlacedLabel } from './overlayLabels.ts'
import type { Outline } from './overlayOutlines.ts'
import type { ScaleBar } from './overlayScale.ts'
import { pointerRadiusPx, type SuspectPointer, type SuspectRing } from './overlaySuspects.ts'
import { suspectColour, type Palette } from './palette.ts'

type Context = CanvasRenderingContext2D

export const labelFamily = 'system-ui, "Segoe UI", Roboto, "Liberation Sans", sans-serif'
const labelFont = `600 12px ${labelFamily}`
const plainLabelFont = `500 11.5px ${labelFamily}`
const plateFont = `700 11px ${labelFamily}`
const pointerFont = `700 13px ${labelFamily}`

/** A soft band along a curve, under the reading that is chosen or pointed at. */
export function drawGlow(context: Context, { x0, y0, cx, cy, x1, y1 }: Curve, ink: string, widthPx: number) {
  context.save()
  context.globalAlpha = 0.5
  context.lineCap = 'round'
  context.setLineDash([])
  context.lineWidth = widthPx
  context.strokeStyle = ink
  context.beginPath()
  context.moveTo(x0, y0)
  context.quadraticCurveTo(cx, cy, x1, y1)
  context.stroke()
  context.restore()
}

const spotRadiusPx = 10

/** The edge of what is chosen or pointed at: a rim below, so that it stands on any ground. */
export function drawOutline(
  context: Context,
  outline: Outline,
  view: View,
  ink: string,
  palette: Palette,
  isStrong: boolean,
): void {
  context.lineJoin = 'round'
  context.beginPath()
  if (outline.form === 'area') {
    tracePolygon(
      context,
      outline.cornersM.map((corner) => toScreen(view, corner)),
    )
  } else {
    for (const atM of outline.atM) {
      const { x, y } = toScreen(view, atM)
      if (x < -20 || y < -20 || x > view.widthPx + 20 || y > view.heightPx + 20) continue
      context.moveTo(x + spotRadiusPx, y)
      context.arc(x, y, spotRadiusPx, 0, 2 * Math.PI)
    }
  }
  strokeTwice(context, ink, palette.halo, isStrong ? 3 : 2)
}

function tracePolygon(context: Context, corners: readonly PointPx[]): void {
  corners.forEach(({ x, y }, i) => (i === 0 ? context.moveTo(x, y) : context.lineTo(x, y)))
  context.closePath()
}

function strokeTwice(context: Context, ink: string, rim: string, widthPx: number): void {
  context.strokeStyle = rim
  context.lineWidth = widthPx + 3
  context.stroke()
  context.strokeStyle = ink
  context.lineWidth = widthPx
  context.stroke()
}

/** Chevrons along the current, open towards where it comes from, as large as the current is strong. */
export function drawArrows(context: Context, arrows: readonly CurrentArrow[], palette: Palette): void {
  if (arrows.length === 0) return
  context.setLineDash([])
  context.beginPath()
  for (const { at, towards, sizePx } of arrows) {
    const place = (along: number, across: number): [number, number] => [
      at.x + sizePx * (along * towards.x - across * towards.y),
      at.y + sizePx * (along * towards.y + across * towards.x),
    ]
    context.moveTo(...place(-0.4, 0.62))
    context.lineTo(...place(0.4, 0))
    context.lineTo(...place(-0.4, -0.62))
  }
  context.lineJoin = 'miter'
  context.lineCap = 'butt'
  context.lineWidth = 5.5
  context.strokeStyle = palette.halo
  context.stroke()
  context.lineWidth = 2.5
  context.strokeStyle = palette.current
  context.stroke()
}

/** The ring of each suspect and the plate with its rank. Plates are text and may be left out while moving. */
export function drawRings(
  context: Context,
  rings: readonly SuspectRing[],
  palette: Palette,
  hasPlates: boolean,
): void {
  for (const { mark, at, radiusPx, plate } of [...rings].reverse()) {
    const ink = suspectColour(palette, mark.probability)
    context.beginPath()
    context.arc(at.x, at.y, radiusPx, 0, 2 * Math.PI)
    strokeTwice(context, ink, palette.halo, mark.isPicked ? 3 : mark.rank === 1 ? 2.25 : 1.5)
    if (plate && hasPlates) drawPlate(context, plate, String(mark.rank), palette.suspectHigh, palette)
  }
}

function drawPlate(context: Context, plate: Box, text: string, ink: string, palette: Palette): void {
  context.beginPath()
  context.roundRect(plate.left, plate.top, plate.right - plate.left, plate.bottom - plate.top, 4)
  context.lineWidth = 2
  context.strokeStyle = palette.halo
  context.stroke()
  context.fillStyle = ink
  context.fill()
  context.font = plateFont
  context.textAlign = 'center'
  context.textBaseline = 'middle'
  context.fillStyle = palette.halo
  context.fillText(text, (plate.left + plate.right) / 2, (plate.top + plate.bottom) / 2 + 0.5)
}

export function drawPointers(context: Context, pointers: readonly SuspectPointer[], palette: Palette): void {
  for (const { mark, at, towards } of pointers) {
    const place = (along: number, across: number): PointPx => ({
      x: at.x + along * towards.x - across * towards.y,
      y: at.y + along * towards.y + across * towards.x,
    })
    context.beginPath()
    context.arc(at.x, at.y, pointerRadiusPx, 0, 2 * Math.PI)
    context.closePath()
    const tip = pointerRadiusPx + 10
    tracePolygon(context, [place(tip, 0), place(9, 8.5), place(9, -8.5)])
    context.lineJoin = 'round'
    context.lineWidth = 3
    context.strokeStyle = palette.halo
    context.stroke()
    context.fillStyle = palette.suspectHigh
    context.fill()
    context.font = pointerFont
    context.textAlign = 'center'
    context.textBaseline = 'middle'
    context.fillStyle = palette.halo
    context.fillText(String(mark.rank), at.x, at.y + 0.5)
  }
}

/** The line of a pair in the making, with a ring at each end that is known. */
export function drawLink(
  context: Context,
  from: PointPx,
  to: { readonly at: PointPx; readonly isOnPart: boolean } | null,
  palette: Palette,
): void {
  context.lineJoin = 'round'
  context.lineCap = 'round'
  if (to) {
    const { x0, y0, cx, cy, x1, y1 } = arcBetween(from, to.at)
    context.beginPath()
    context.moveTo(x0, y0)
    context.quadraticCurveTo(cx, cy, x1, y1)
    context.setLineDash(to.isOnPart ? [] : [2, 7])
    context.strokeStyle = palette.halo
    context.lineWidth = 6.5
    context.stroke()
    context.strokeStyle = palette.link
    context.lineWidth = 3
    context.stroke()
    context.setLineDash([])
  }
  drawLinkEnd(context, from, true, palette)
  if (to) drawLinkEnd(context, to.at, to.isOnPart, palette)
}

/** A clip on a part is a disc with a hole; an end that holds nothing yet is an open ring. */
function drawLinkEnd(context: Context, { x, y }: PointPx, isOnPart: boolean, palette: Palette): void {
  context.beginPath()
  context.arc(x, y, isOnPart ? 7 : 5, 0, 2 * Math.PI)
  strokeTwice(context, palette.link, palette.halo, isOnPart ? 3 : 2)
  context.fillStyle = isOnPart ? palette.link : palette.halo
  context.fill()
  if (!isOnPart) return
  context.beginPath()
  context.arc(x, y, 2.5, 0, 2 * Math.PI)
  context.fillStyle = palette.halo
  context.fill()
}

export interface LabelText {
  readonly text: string
  readonly ink: string
  /** `full`: the plate itself in the ink, for what is chosen; `plain`: for what needs no eye. */
  readonly weight: 'full' | 'strong' | 'plain'
  /** What the label speaks of: where it stands beside it, a line leads there. */
  readonly curve: Curve
}

export const labelHeightPx = 19

export function labelWidthPx(context: Context, text: string): number {
  context.font = labelFont
  return Math.ceil(context.measureText(text).width) + 12
}

export function drawLabels(
  context: Context,
  labels: readonly PlacedLabel<LabelText>[],
  palette: Palette,
): void {
  context.setLineDash([])
  context.textAlign = 'center'
  context.textBaseline = 'middle'
  for (const { of, box } of labels) if (of.weight !== 'plain') drawLead(context, of, box, palette)
  for (const { of, box } of labels) {
    const isFull = of.weight === 'full'
    context.font = of.weight === 'plain' ? plainLabelFont : labelFont
    context.beginPath()
    context.roundRect(box.left, box.top, box.right - box.left, box.bottom - box.top, 5)
    context.fillStyle = isFull ? of.ink : palette.labelPlate
    context.fill()
    context.lineWidth = of.weight === 'plain' ? 0.75 : 1.5
    context.strokeStyle = of.ink
    context.stroke()
    context.fillStyle = isFull ? palette.labelPlate : palette.label
    context.fillText(of.text, (box.left + box.right) / 2, (box.top + box.bottom) / 2 + 0.5)
  }
}

/** From a label that stands beside its curve to the place on it that is nearest. */
function drawLead(context: Context, { curve, ink }: LabelText, box: Box, palette: Palette): void {
  const x = (box.left + box.right) / 2
  const y = (box.top + box.bottom) / 2
  let nearest = pointOn(curve, 0)
  for (let i = 1; i <= 24; i++) {
    const point = pointOn(curve, i / 24)
    if (Math.hypot(point.x - x, point.y - y) < Math.hypot(nearest.x - x, nearest.y - y)) nearest = point
  }
  if (nearest.x > box.left && nearest.x < box.right && nearest.y > box.top && nearest.y < box.bottom) return
  context.beginPath()
  context.moveTo(x, y)
  context.lineTo(nearest.x, nearest.y)
  context.lineCap = 'round'
  strokeTwice(context, ink, palette.halo, 1.25)
}

/** A bar with its length, standing at its right end, in the corner of the map. */
export function drawScale(
  context: Context,
  { text, widthPx }: ScaleBar,
  at: PointPx,
  palette: Palette,
): void {
  const trace = () => {
    context.beginPath()
    context.moveTo(at.x - widthPx, at.y - 6)
    context.lineTo(at.x - widthPx, at.y)
    context.lineTo(at.x, at.y)
    context.lineTo(at.x, at.y - 6)
  }
  context.beginPath()
  context.roundRect(at.x - widthPx - 8, at.y - 24, widthPx + 16, 31, 6)
  context.globalAlpha = 0.75
  context.fillStyle = palette.ground
  context.fill()
  context.globalAlpha = 1
  context.lineCap = 'square'
  context.lineJoin = 'miter'
  trace()
  strokeTwice(context, palette.label, palette.halo, 1.5)
  context.font = labelFont
  context.textAlign = 'center'
  context.textBaseline = 'alphabetic'
  context.lineJoin = 'round'
  context.lineWidth = 3
  context.strokeStyle = palette.halo
  context.strokeText(text, at.x - widthPx / 2, at.y - 7)
  context.fillStyle = palette.label
  context.fillText(text, at.x - widthPx / 2, at.y - 7)
}
