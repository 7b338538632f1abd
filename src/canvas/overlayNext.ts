import type { NextPair } from '../state/mapMarks.ts'
import type { MapGeometry } from './geometry.ts'
import { toScreen, type PointPx, type View } from './mapTypes.ts'
import { partPointM } from './markPoints.ts'
import {
  arcBetween,
  chordPx,
  directionOn,
  pieceOf,
  pointOn,
  spanIn,
  type Box,
  type Curve,
} from './overlayCurves.ts'
import type { GlyphContext, GlyphInks } from './readingGlyph.ts'

/** The pair that is to be read next, as it lies on the screen. */
export interface NextGhost {
  /** The seen piece, with which of the ends of the pair it has. */
  readonly curve: Curve
  readonly hasStart: boolean
  readonly hasEnd: boolean
  /** Where its tag stands: the middle of what is seen. */
  readonly tagAt: PointPx
}

/** A dash and a dot: no look of a reading has that line, with or without colour. */
export const nextDash: readonly number[] = [9, 4, 1.5, 4]
const lineWidthPx = 1.75
const haloWidthPx = 4.5
/** The ends are jaws: open towards where the clip comes from, away from the line. */
const jawPx = 5.5
const jawOpening = (2 * Math.PI) / 3

/** The ghost of the next pair; null without one, and where none of it is in the box. */
export function nextGhost(
  geometry: MapGeometry,
  next: NextPair | null,
  view: View,
  box: Box,
): NextGhost | null {
  const fromM = next && partPointM(geometry, next.from)
  const toM = next && partPointM(geometry, next.to)
  if (!fromM || !toM) return null
  const whole = arcBetween(toScreen(view, fromM), toScreen(view, toM))
  const span = spanIn(whole, box)
  if (span === null) return null
  const [start, end] = span
  return {
    curve: pieceOf(whole, start, end),
    hasStart: start <= 0,
    hasEnd: end >= 1,
    tagAt: pointOn(whole, (start + end) / 2),
  }
}

/** Draws a pair that nobody has read yet: a thin line of dashes and dots between open jaws. */
export function drawNext(
  context: GlyphContext,
  { curve, hasStart, hasEnd }: Omit<NextGhost, 'tagAt'>,
  { line, halo }: GlyphInks,
): void {
  const { x0, y0, x1, y1 } = curve
  context.lineJoin = 'round'
  for (const [ink, widthPx, dash] of [
    [halo, haloWidthPx, []],
    [line, lineWidthPx, nextDash],
  ] as const) {
    if (ink === null) continue
    context.strokeStyle = ink
    context.lineWidth = widthPx
    context.lineCap = 'butt'
    context.setLineDash([...dash])
    context.beginPath()
    context.moveTo(x0, y0)
    context.quadraticCurveTo(curve.cx, curve.cy, x1, y1)
    context.stroke()
    context.setLineDash([])
    context.lineCap = 'round'
    context.lineWidth = ink === halo ? widthPx : widthPx + 0.5
    if (hasStart) drawJaw(context, { x: x0, y: y0 }, outwards(curve, 0))
    if (hasEnd) drawJaw(context, { x: x1, y: y1 }, outwards(curve, 1))
  }
}

/** The angle in which a curve would go on beyond one of its ends. */
function outwards(curve: Curve, end: 0 | 1): number {
  if (chordPx(curve) === 0) return end === 0 ? Math.PI : 0
  const { x, y } = directionOn(curve, end)
  return end === 0 ? Math.atan2(-y, -x) : Math.atan2(y, x)
}

function drawJaw(context: GlyphContext, { x, y }: PointPx, opensTo: number): void {
  const half = jawOpening / 2
  context.beginPath()
  context.arc(x, y, jawPx, opensTo + half, opensTo - half + 2 * Math.PI)
  context.stroke()
}

/** The ghost by itself, as the legend shows it: level, in a box of this size. */
export function drawNextSample(
  context: GlyphContext,
  { widthPx, heightPx }: { readonly widthPx: number; readonly heightPx: number },
  inks: GlyphInks,
): void {
  const y = heightPx / 2
  const x1 = widthPx - 8
  drawNext(
    context,
    { curve: { x0: 8, y0: y, cx: widthPx / 2, cy: y, x1, y1: y }, hasStart: true, hasEnd: true },
    inks,
  )
}
