import type { LineLook } from '../state/readingLook.ts'
import { packed } from './colour.ts'
import { arcBetween, chordPx, directionOn, pointOn, spanIn, type Box, type Curve } from './overlayCurves.ts'
import { shortestMarkedPx, urgency } from './overlayEdges.ts'
import type { Palette } from './palette.ts'
import { fillBox, fillDot, fillRect, strokeLine, strokeRing, type Raster } from './rasteriser.ts'
import {
  barPlacesPx,
  barPx,
  barReachPx,
  barsOf,
  endDotPx,
  endRingPx,
  gapPx,
  linesOf,
  lookStyles,
  middleRingPx,
  rimPx,
  type LookStyle,
} from './readingGlyph.ts'
import { isQuiet, looksUpwards, type ReadingPicture } from './readingPicture.ts'
import type { Sight } from './sight.ts'

/** A straight piece of a curve is about so long, in CSS pixels: bends stay round to the eye. */
const piecePx = 14
/** Shorter readings are a line and no more: their ends would hide it. */
const shortestEndedPx = 22
const marginPx = 24

/**
 * Readings as pixels of the base layer, in the order in which they are to lie on one another. A reading is the curve of
 * `arcBetween`, its look that of `lookStyles`; sizes are times the device pixels. O(readings + their pixels).
 */
export function drawReadingLines(sight: Sight, picture: ReadingPicture, palette: Palette): void {
  const { raster, x0, y0, k, dpr } = sight
  const { edges, shown } = picture
  const { endsM, lanes, marks } = edges
  const margin = marginPx * dpr
  const box: Box = {
    left: -margin,
    top: -margin,
    right: raster.width + margin,
    bottom: raster.height + margin,
  }
  const brushes = brushesOf(sight, box, picture, palette)
  for (const i of shown) {
    const fromX = x0 + k * endsM[4 * i]
    const fromY = y0 - k * endsM[4 * i + 1]
    const toX = x0 + k * endsM[4 * i + 2]
    const toY = y0 - k * endsM[4 * i + 3]
    // An arc is no higher than its chord is long: what is farther away than that need not be bent first.
    const reach = Math.abs(toX - fromX) + Math.abs(toY - fromY)
    if (Math.max(fromX, toX) < box.left - reach || Math.min(fromX, toX) > box.right + reach) continue
    if (Math.max(fromY, toY) < box.top - reach || Math.min(fromY, toY) > box.bottom + reach) continue
    const curve = arcBetween({ x: fromX, y: fromY }, { x: toX, y: toY }, lanes[i], dpr)
    drawReading(brushes[marks[i].look], curve)
  }
}

interface Brush {
  readonly raster: Raster
  readonly dpr: number
  /** What is seen, with some room around it. */
  readonly box: Box
  readonly style: LookStyle
  readonly line: number
  readonly halo: number | null
  readonly opacity: number
  /** Share of the width and of the ends. */
  readonly strength: number
  /** It asks to be looked at: its mark stands at every zoom, however short the line. */
  readonly isUrgent: boolean
  /** Ends and middle; without them while the scale changes. */
  readonly hasMarks: boolean
  /** Rims of the lines. */
  readonly hasRims: boolean
}

function brushesOf(
  { raster, dpr, isSwift }: Sight,
  box: Box,
  { quietOpacity, quietStrength }: ReadingPicture,
  palette: Palette,
): Readonly<Record<LineLook, Brush>> {
  const halo = packed(palette.halo)
  const brushOf = (look: LineLook): Brush => {
    const isFaint = isQuiet(look) && quietOpacity < 1
    const isBare = isSwift && isQuiet(look)
    return {
      raster,
      dpr,
      box,
      style: lookStyles[look],
      line: packed(palette.readings[look]),
      isUrgent: urgency[look] < urgency.waiting,
      hasMarks: !isBare,
      hasRims: !isSwift,
      halo: isFaint || isBare || look === 'setAside' ? null : halo,
      opacity: isFaint ? quietOpacity : 1,
      strength: isQuiet(look) ? quietStrength : 1,
    }
  }
  return Object.fromEntries(looksUpwards.map((look) => [look, brushOf(look)])) as Record<LineLook, Brush>
}

function drawReading(brush: Brush, curve: Curve): void {
  const { dpr, style, halo, line, opacity, strength } = brush
  const lengthPx = chordPx(curve) / dpr
  const isMarked = lengthPx >= shortestMarkedPx
  const width = style.widthPx * strength * dpr
  const lines = linesOf(style, { curve, middleAt: isMarked ? 0.5 : null }, dpr)
  const isDashed = style.dash.length > 0
  if (halo !== null && !isDashed && brush.hasRims) {
    for (const each of lines) stroke(brush, each, width + 2 * rimPx * dpr, halo, 1)
  }
  for (const each of lines) {
    if (isDashed) strokeDashed(brush, each, width)
    else stroke(brush, each, width, line, opacity)
  }
  if (!brush.hasMarks) return
  if (lengthPx >= shortestEndedPx) drawEnds(brush, curve)
  if (isMarked) drawMiddle(brush, curve)
  else if (brush.isUrgent) drawFarMark(brush, curve)
}

/** The seen span of a curve in straight pieces. */
function stroke(
  { raster, dpr, box }: Brush,
  curve: Curve,
  width: number,
  ink: number,
  opacity: number,
): void {
  const span = spanIn(curve, box)
  if (!span) return
  const [t0, t1] = span
  // Pieces are counted on the whole curve, so that its bends do not depend on what is seen of it.
  const pieces = Math.max(Math.ceil(chordPx(curve) / (piecePx * dpr)), 2)
  const first = Math.floor(t0 * pieces)
  const last = Math.min(Math.ceil(t1 * pieces), pieces)
  let { x, y } = pointOn(curve, first / pieces)
  for (let p = first + 1; p <= last; p++) {
    const next = pointOn(curve, p / pieces)
    strokeLine(raster, x, y, next.x, next.y, width, ink, opacity)
    x = next.x
    y = next.y
  }
}

/** Dashes are counted from the beginning of the curve, so that they stay where they are while the view moves. */
function strokeDashed(
  { raster, dpr, box, style, line, halo, hasRims }: Brush,
  curve: Curve,
  width: number,
): void {
  const length = chordPx(curve)
  const span = spanIn(curve, box)
  if (!span || !(length > 0)) return
  const [t0, t1] = span
  const [dash, gap] = style.dash
  const period = ((dash + gap) * dpr) / length
  const isDotted = style.cap === 'round'
  for (const isRim of [true, false]) {
    if (isRim && !(hasRims && halo !== null)) continue
    const ink = isRim ? halo! : line
    const grown = isRim ? width + 2 * rimPx * dpr : width
    for (let n = Math.floor(t0 / period); n * period < t1; n++) {
      const t = n * period
      const from = pointOn(curve, t)
      if (isDotted) {
        fillDot(raster, from.x, from.y, grown / 2, ink)
        continue
      }
      const to = pointOn(curve, Math.min(t + (dash * dpr) / length, 1))
      strokeLine(raster, from.x, from.y, to.x, to.y, grown, ink)
    }
  }
}

function drawEnds(brush: Brush, { x0, y0, x1, y1 }: Curve): void {
  const { ends } = brush.style
  if (ends === 'none') return
  drawEndAt(brush, x0, y0, ends)
  drawEndAt(brush, x1, y1, ends)
}

function drawEndAt(
  { raster, dpr, line, halo, opacity, strength }: Brush,
  x: number,
  y: number,
  form: 'dots' | 'rings',
): void {
  if (form === 'dots') {
    const radius = endDotPx * strength * dpr
    if (halo !== null) fillDot(raster, x, y, radius + rimPx * dpr, halo)
    fillDot(raster, x, y, radius, line, opacity)
    return
  }
  const half = 0.875 * dpr
  if (halo !== null) fillDot(raster, x, y, endRingPx * dpr, halo)
  strokeRing(raster, x, y, endRingPx * dpr - half, endRingPx * dpr + half, line)
}

/** A reading too short for its ends: the mark of its look alone, a ring where the look has none that fits. */
function drawFarMark(brush: Brush, curve: Curve): void {
  const { middle } = brush.style
  if (middle !== 'none' && middle !== 'gap') return drawMiddle(brush, curve)
  const { x, y } = pointOn(curve, 0.5)
  drawEndAt(brush, x, y, 'rings')
}

function drawMiddle(brush: Brush, curve: Curve): void {
  const { raster, dpr, style, line, halo } = brush
  const { x, y } = pointOn(curve, 0.5)
  if (x < -16 * dpr || y < -16 * dpr || x > raster.width + 16 * dpr || y > raster.height + 16 * dpr) return
  switch (style.middle) {
    case 'none':
      return
    case 'gap':
      return drawGapEnds(brush, curve)
    case 'triangle':
      if (halo !== null) fillTriangle(raster, x, y, 7.5, 5, 7, 1.8, dpr, halo)
      return fillTriangle(raster, x, y, 7.5, 5, 7, 0, dpr, line)
    case 'diamond': {
      const half = (6.5 * dpr) / Math.SQRT2
      fillBox(raster, x, y, Math.SQRT1_2, Math.SQRT1_2, half + dpr, half + dpr, line)
      if (halo !== null) fillBox(raster, x, y, Math.SQRT1_2, Math.SQRT1_2, half - dpr, half - dpr, halo)
      return
    }
    case 'square':
      if (halo !== null) fillBox(raster, x, y, 1, 0, (4.5 + rimPx) * dpr, (4.5 + rimPx) * dpr, halo)
      return fillBox(raster, x, y, 1, 0, 4.5 * dpr, 4.5 * dpr, line)
    case 'chevron':
      for (const [ink, width] of [
        [halo, 5.5 * dpr],
        [line, 2.5 * dpr],
      ] as const) {
        if (ink === null) continue
        strokeLine(raster, x - 6 * dpr, y - 3.5 * dpr, x, y + 4 * dpr, width, ink)
        strokeLine(raster, x, y + 4 * dpr, x + 6 * dpr, y - 3.5 * dpr, width, ink)
        fillDot(raster, x, y + 4 * dpr, width / 2, ink)
      }
      return
    case 'bar':
    case 'two bars':
    case 'three bars':
      return drawBars(brush, curve, barsOf[style.middle])
    case 'ring':
      if (halo !== null) fillDot(raster, x, y, middleRingPx * dpr, halo)
      return strokeRing(raster, x, y, (middleRingPx - 1.125) * dpr, (middleRingPx + 1.125) * dpr, line)
    case 'three dots':
      for (const dx of [-5, 0, 5]) {
        if (halo !== null) fillDot(raster, x + dx * dpr, y, (1.9 + rimPx) * dpr, halo)
        fillDot(raster, x + dx * dpr, y, 1.9 * dpr, line)
      }
  }
}

/** A triangle that stands on its level side, row by row; sizes in CSS pixels from its middle, grown by a rim. */
function fillTriangle(
  raster: Raster,
  x: number,
  y: number,
  upPx: number,
  downPx: number,
  halfPx: number,
  rim: number,
  dpr: number,
  ink: number,
): void {
  const top = y - (upPx + 2 * rim) * dpr
  const bottom = y + (downPx + rim) * dpr
  const slope = (halfPx + 1.7 * rim) / (upPx + downPx + 3 * rim)
  for (let row = Math.floor(top); row < bottom; row++) {
    const from = Math.max(row, top)
    const to = Math.min(row + 1, bottom)
    const half = slope * ((from + to) / 2 - top)
    fillRect(raster, x - half, from, x + half, to, ink)
  }
}

/** Bars across the line, side by side about its middle. */
function drawBars({ raster, dpr, line, halo }: Brush, curve: Curve, count: number): void {
  const { x, y } = pointOn(curve, 0.5)
  const along = directionOn(curve, 0.5)
  const reach = barReachPx * dpr
  for (const [ink, width] of [
    [halo, barPx + 2 * rimPx],
    [line, barPx],
  ] as const) {
    if (ink === null) continue
    for (const px of barPlacesPx(count)) {
      const [cx, cy] = [x + px * dpr * along.x, y + px * dpr * along.y]
      const [dx, dy] = [reach * along.y, -reach * along.x]
      strokeLine(raster, cx + dx, cy + dy, cx - dx, cy - dy, width * dpr, ink)
    }
  }
}

/** Short bars across both broken ends. */
function drawGapEnds({ raster, dpr, line }: Brush, curve: Curve): void {
  const half = (gapPx * dpr) / 2 / Math.max(chordPx(curve), gapPx * dpr)
  for (const t of [0.5 - half, 0.5 + half]) {
    const { x, y } = pointOn(curve, t)
    const along = directionOn(curve, t)
    const reach = 5 * dpr
    strokeLine(
      raster,
      x + reach * along.y,
      y - reach * along.x,
      x - reach * along.y,
      y + reach * along.x,
      1.5 * dpr,
      line,
    )
  }
}
