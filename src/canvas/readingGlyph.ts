import type { LineLook } from '../state/readingLook.ts'
import type { PointPx } from './mapTypes.ts'
import { besideCurve, chordPx, directionOn, pieceOf, pointOn, type Curve } from './overlayCurves.ts'

/** As much of a canvas context as a reading needs; a test hands in one that writes down. */
export type GlyphContext = Pick<
  CanvasRenderingContext2D,
  | 'beginPath'
  | 'moveTo'
  | 'lineTo'
  | 'quadraticCurveTo'
  | 'arc'
  | 'closePath'
  | 'stroke'
  | 'fill'
  | 'setLineDash'
  | 'strokeStyle'
  | 'fillStyle'
  | 'lineWidth'
  | 'lineCap'
  | 'lineJoin'
>

/** How a look is drawn: by line, ends and what stands at the middle; never by colour alone. Sizes in CSS pixels. */
export interface LookStyle {
  readonly widthPx: number
  readonly dash: readonly number[]
  readonly cap: 'butt' | 'round'
  readonly ends: 'dots' | 'rings' | 'none'
  readonly middle:
    | 'none'
    | 'triangle'
    | 'diamond'
    | 'gap'
    | 'chevron'
    | 'three dots'
    | 'square'
    | 'ring'
    | 'bar'
    | 'two bars'
    | 'three bars'
  /** Two lines side by side instead of one. */
  readonly isDouble: boolean
}

const plain: LookStyle = {
  widthPx: 1.5,
  dash: [],
  cap: 'butt',
  ends: 'none',
  middle: 'none',
  isDouble: false,
}

export const lookStyles: Readonly<Record<LineLook, LookStyle>> = {
  within: { ...plain, ends: 'dots' },
  investigate: { ...plain, widthPx: 3.5, ends: 'dots', middle: 'triangle' },
  overRange: { ...plain, widthPx: 2.25, dash: [13, 7], ends: 'rings' },
  poorContact: { ...plain, widthPx: 2.5, dash: [0.1, 5.5], cap: 'round', middle: 'diamond' },
  noMetalPath: { ...plain, widthPx: 1.5, middle: 'gap', isDouble: true },
  tooLow: { ...plain, middle: 'chevron' },
  leadIn: { ...plain, widthPx: 2.25, dash: [7, 5], middle: 'ring' },
  setAside: { ...plain, widthPx: 0.75 },
  waiting: { ...plain, widthPx: 1.5, dash: [4, 4], middle: 'three dots' },
  planned: { ...plain, widthPx: 1.75, ends: 'rings' },
  required: { ...plain, widthPx: 2.5, ends: 'rings', middle: 'square' },
  proposed: { ...plain, widthPx: 1.75, dash: [7, 4], ends: 'rings' },
  timesBelow: { ...plain, widthPx: 1.25, middle: 'chevron' },
  timesNear: { ...plain, widthPx: 1.25, ends: 'dots' },
  timesRaised: { ...plain, widthPx: 2, middle: 'bar' },
  timesHigh: { ...plain, widthPx: 2.75, middle: 'two bars' },
  timesFar: { ...plain, widthPx: 3.5, middle: 'three bars' },
}

/** The seen piece of a reading's curve, whether its ends are seen, and where its middle mark stands. */
export interface ReadingCurve {
  readonly curve: Curve
  readonly hasStart: boolean
  readonly hasEnd: boolean
  /** Share of `curve`; null where there is no room for the mark. */
  readonly middleAt: number | null
}

export interface GlyphInks {
  readonly line: string
  /** Rim that keeps lines apart from what lies below; null for none. */
  readonly halo: string | null
}

export const rimPx = 1.25
export const endDotPx = 2.75
export const endRingPx = 4
export const middleRingPx = 5.5
const railsApartPx = 5
export const gapPx = 18

/** Draws readings of one look, all their lines before all their marks. O(readings). */
export function drawReadings(
  context: GlyphContext,
  look: LineLook,
  readings: readonly ReadingCurve[],
  inks: GlyphInks,
): void {
  if (readings.length === 0) return
  const style = lookStyles[look]
  context.lineJoin = 'round'
  const rails = readings.map((reading) => linesOf(style, reading))
  if (inks.halo) {
    context.setLineDash([])
    context.lineCap = 'butt'
    strokeCurves(context, rails, style.widthPx + 2 * rimPx, inks.halo)
  }
  context.setLineDash([...style.dash])
  context.lineCap = style.cap
  strokeCurves(context, rails, style.widthPx, inks.line)
  context.setLineDash([])
  context.lineCap = 'round'
  for (const reading of readings) {
    drawEnds(context, style, reading, inks)
    if (reading.middleAt !== null) drawMiddle(context, style, reading.curve, reading.middleAt, inks)
  }
}

/**
 * Each line is a path of its own: a canvas drawn without a graphics card takes longer for many curves in one path
 * than for as many paths.
 */
function strokeCurves(
  context: GlyphContext,
  curves: readonly (readonly Curve[])[],
  widthPx: number,
  ink: string,
): void {
  context.lineWidth = widthPx
  context.strokeStyle = ink
  for (const lines of curves) {
    context.beginPath()
    traceCurves(context, lines)
    context.stroke()
  }
}

function traceCurves(context: GlyphContext, curves: readonly Curve[]): void {
  for (const { x0, y0, cx, cy, x1, y1 } of curves) {
    context.moveTo(x0, y0)
    context.quadraticCurveTo(cx, cy, x1, y1)
  }
}

/** The lines of a reading: one, or two side by side, broken in the middle where the look says so. `scale` as in `arcBetween`. */
export function linesOf(
  { middle, isDouble }: LookStyle,
  { curve, middleAt }: Pick<ReadingCurve, 'curve' | 'middleAt'>,
  scale = 1,
): readonly Curve[] {
  const apart = (railsApartPx * scale) / 2
  const lines = isDouble ? [besideCurve(curve, apart), besideCurve(curve, -apart)] : [curve]
  if (middle !== 'gap' || middleAt === null) return lines
  const half = (gapPx * scale) / 2 / Math.max(chordPx(curve), gapPx * scale)
  return lines.flatMap((line) => [pieceOf(line, 0, middleAt - half), pieceOf(line, middleAt + half, 1)])
}

function drawEnds(context: GlyphContext, { ends }: LookStyle, reading: ReadingCurve, inks: GlyphInks): void {
  if (ends === 'none') return
  const { x0, y0, x1, y1 } = reading.curve
  const places: PointPx[] = []
  if (reading.hasStart) places.push({ x: x0, y: y0 })
  if (reading.hasEnd) places.push({ x: x1, y: y1 })
  for (const { x, y } of places) {
    context.beginPath()
    context.arc(x, y, ends === 'dots' ? endDotPx : endRingPx, 0, 2 * Math.PI)
    fillAndRim(context, ends === 'dots', inks, 1.75)
  }
}

/** A filled mark has a rim in the halo's colour, an open one is filled with it. */
function fillAndRim(
  context: GlyphContext,
  isFilled: boolean,
  { line, halo }: GlyphInks,
  widthPx: number,
): void {
  if (isFilled) {
    if (halo) {
      context.lineWidth = 2 * rimPx
      context.strokeStyle = halo
      context.stroke()
    }
    context.fillStyle = line
    context.fill()
    return
  }
  if (halo) {
    context.fillStyle = halo
    context.fill()
  }
  context.lineWidth = widthPx
  context.strokeStyle = line
  context.stroke()
}

/** The mark in the middle of a reading by itself. */
export function drawMiddle(
  context: GlyphContext,
  { middle }: LookStyle,
  curve: Curve,
  at: number,
  inks: GlyphInks,
): void {
  const { x, y } = pointOn(curve, at)
  switch (middle) {
    case 'none':
      return
    case 'gap':
      return drawGapEnds(context, curve, at, inks)
    case 'triangle':
      tracePolygon(context, x, y, [0, -7.5, 7, 5, -7, 5])
      return fillAndRim(context, true, inks, 1.5)
    case 'diamond':
      tracePolygon(context, x, y, [0, -6.5, 6.5, 0, 0, 6.5, -6.5, 0])
      return fillAndRim(context, false, inks, 2)
    case 'square':
      tracePolygon(context, x, y, [-4.5, -4.5, 4.5, -4.5, 4.5, 4.5, -4.5, 4.5])
      return fillAndRim(context, true, inks, 1.5)
    case 'chevron':
      return drawChevron(context, x, y, inks)
    case 'bar':
    case 'two bars':
    case 'three bars':
      return drawBars(context, curve, at, barsOf[middle], inks)
    case 'ring':
      context.beginPath()
      context.arc(x, y, middleRingPx, 0, 2 * Math.PI)
      return fillAndRim(context, false, inks, 2.25)
    case 'three dots':
      for (const dx of [-5, 0, 5]) {
        context.beginPath()
        context.arc(x + dx, y, 1.9, 0, 2 * Math.PI)
        fillAndRim(context, true, inks, 1)
      }
  }
}

function tracePolygon(context: GlyphContext, x: number, y: number, corners: readonly number[]): void {
  context.beginPath()
  for (let i = 0; i < corners.length; i += 2) {
    const to = i === 0 ? 'moveTo' : 'lineTo'
    context[to](x + corners[i], y + corners[i + 1])
  }
  context.closePath()
}

/** So many short bars across the line: counted also where no colour is seen. */
export const barsOf = { bar: 1, 'two bars': 2, 'three bars': 3 } as const
export const barsApartPx = 6.5
export const barReachPx = 8
export const barPx = 2.5

/** Where bars stand along the line, in CSS pixels from its middle. */
export function barPlacesPx(count: number): readonly number[] {
  return Array.from({ length: count }, (_, k) => (k - (count - 1) / 2) * barsApartPx)
}

function drawBars(context: GlyphContext, curve: Curve, at: number, count: number, inks: GlyphInks): void {
  const { x, y } = pointOn(curve, at)
  const along = directionOn(curve, at)
  for (const [ink, widthPx] of [
    [inks.halo, barPx + 2 * rimPx],
    [inks.line, barPx],
  ] as const) {
    if (ink === null) continue
    context.beginPath()
    for (const px of barPlacesPx(count)) {
      const [cx, cy] = [x + px * along.x, y + px * along.y]
      context.moveTo(cx + barReachPx * along.y, cy - barReachPx * along.x)
      context.lineTo(cx - barReachPx * along.y, cy + barReachPx * along.x)
    }
    context.lineWidth = widthPx
    context.strokeStyle = ink
    context.stroke()
  }
}

function drawChevron(context: GlyphContext, x: number, y: number, { line, halo }: GlyphInks): void {
  for (const [ink, widthPx] of [
    [halo, 5.5],
    [line, 2.5],
  ] as const) {
    if (ink === null) continue
    context.beginPath()
    context.moveTo(x - 6, y - 3.5)
    context.lineTo(x, y + 4)
    context.lineTo(x + 6, y - 3.5)
    context.lineWidth = widthPx
    context.strokeStyle = ink
    context.stroke()
  }
}

/** Short bars across both broken ends, so that the gap reads as a break and not as something in front. */
function drawGapEnds(context: GlyphContext, curve: Curve, at: number, { line }: GlyphInks): void {
  const half = gapPx / 2 / Math.max(chordPx(curve), gapPx)
  context.beginPath()
  for (const t of [at - half, at + half]) {
    const { x, y } = pointOn(curve, t)
    const along = directionOn(curve, t)
    context.moveTo(x + 5 * along.y, y - 5 * along.x)
    context.lineTo(x - 5 * along.y, y + 5 * along.x)
  }
  context.lineWidth = 1.5
  context.strokeStyle = line
  context.stroke()
}

/** A look by itself, as lists and the legend show it: a short level line of a reading in a box of this size. */
export function drawReadingSample(
  context: GlyphContext,
  look: LineLook,
  size: { readonly widthPx: number; readonly heightPx: number },
  inks: GlyphInks,
): void {
  const y = size.heightPx / 2
  const x1 = size.widthPx - 6
  const curve: Curve = { x0: 6, y0: y, cx: (6 + x1) / 2, cy: y, x1, y1: y }
  drawReadings(context, look, [{ curve, hasStart: true, hasEnd: true, middleAt: 0.5 }], inks)
}
