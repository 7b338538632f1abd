import { blended } from './colour.ts'

/**
 * A picture of width × height pixels, row by row from the top; pixel (i, j) covers [i, i + 1) × [j, j + 1).
 * Every function here clips to it, takes colours as `packed` words and opacity 0 … 1, and weighs a pixel at
 * an edge by the share of it that is covered. Nothing is drawn for a size that is not a number.
 */
export interface Raster {
  readonly width: number
  readonly height: number
  readonly pixels: Uint32Array
  /** Takes every shape in place of the pixels, where the picture is written as shapes; `pixels` is then empty. */
  readonly shapes?: ShapeSink
}

/** Shapes as they are drawn, in the same order, places and colours. */
export interface ShapeSink {
  clear(colour: number): void
  /** Closed rings as x₀ y₀ x₁ y₁ …; what lies in an even number of them is left out. */
  area(rings: readonly (readonly number[])[], colour: number): void
  rect(x0: number, y0: number, x1: number, y1: number, colour: number, opacity: number): void
  box(
    cx: number,
    cy: number,
    ux: number,
    uy: number,
    halfAlong: number,
    halfAcross: number,
    colour: number,
    opacity: number,
  ): void
  ring(cx: number, cy: number, inner: number, outer: number, colour: number, opacity: number): void
}

/** From this run length on the engine's own fill is faster than a loop. */
const longRun = 24

function fillRun(pixels: Uint32Array, from: number, to: number, colour: number): void {
  if (to - from > longRun) pixels.fill(colour, from, to)
  else for (let i = from; i < to; i++) pixels[i] = colour
}

function mixRun(pixels: Uint32Array, from: number, to: number, colour: number, weight: number): void {
  if (weight >= 256) fillRun(pixels, from, to, colour)
  else if (weight > 0) for (let i = from; i < to; i++) pixels[i] = blended(pixels[i], colour, weight)
}

export function clear({ pixels, shapes }: Raster, colour: number): void {
  if (shapes) shapes.clear(colour)
  else pixels.fill(colour)
}

/** A rectangle between whole pixels: columns x0 … x1 − 1 of rows y0 … y1 − 1. */
export function fillWhole(
  raster: Raster,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  colour: number,
): void {
  const { width, height, pixels, shapes } = raster
  if (shapes) return shapes.rect(x0, y0, x1, y1, colour, 1)
  const left = Math.max(x0, 0)
  const right = Math.min(x1, width)
  const bottom = Math.min(y1, height)
  if (left >= right) return
  for (let row = Math.max(y0, 0); row < bottom; row++) {
    fillRun(pixels, row * width + left, row * width + right, colour)
  }
}

/** A rectangle with upright sides at any places. O(pixels). */
export function fillRect(
  raster: Raster,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  colour: number,
  opacity = 1,
): void {
  if (raster.shapes) return raster.shapes.rect(x0, y0, x1, y1, colour, opacity)
  const { width, height } = raster
  const left = Math.max(x0, 0)
  const right = Math.min(x1, width)
  const top = Math.max(y0, 0)
  const bottom = Math.min(y1, height)
  if (!(left < right && top < bottom)) return
  const firstRow = Math.ceil(top)
  const lastRow = Math.floor(bottom)
  if (firstRow > lastRow) {
    fillRows(raster, left, right, lastRow, firstRow, colour, opacity * (bottom - top))
    return
  }
  if (firstRow > top)
    fillRows(raster, left, right, firstRow - 1, firstRow, colour, opacity * (firstRow - top))
  fillRows(raster, left, right, firstRow, lastRow, colour, opacity)
  if (bottom > lastRow)
    fillRows(raster, left, right, lastRow, lastRow + 1, colour, opacity * (bottom - lastRow))
}

/** Columns left … right − 1 of one row, copied into the rows from … to − 1. */
export function repeatRow(
  { width, pixels }: Raster,
  row: number,
  left: number,
  right: number,
  from: number,
  to: number,
): void {
  const start = row * width
  for (let other = from; other < to; other++)
    pixels.copyWithin(other * width + left, start + left, start + right)
}

/** Whole rows from … to − 1 between two places within the picture. */
function fillRows(
  { width, pixels }: Raster,
  left: number,
  right: number,
  from: number,
  to: number,
  colour: number,
  opacity: number,
): void {
  const first = Math.ceil(left)
  const last = Math.floor(right)
  const isInOneColumn = first > last
  const full = 256 * opacity
  const weight = Math.round(full)
  const leftWeight = Math.round(full * (isInOneColumn ? right - left : first - left))
  const rightWeight = isInOneColumn ? 0 : Math.round(full * (right - last))
  for (let row = from; row < to; row++) {
    const start = row * width
    if (leftWeight > 0) {
      const at = start + first - 1
      pixels[at] = blended(pixels[at], colour, leftWeight)
    }
    if (first < last) mixRun(pixels, start + first, start + last, colour, weight)
    if (rightWeight > 0) {
      const at = start + last
      pixels[at] = blended(pixels[at], colour, rightWeight)
    }
  }
}

/**
 * A rectangle at any angle: centre (cx, cy), half sizes along the unit vector (ux, uy) and across it. A pixel's
 * weight is the product of the shares that lie inside along and across, which is exact for upright boxes.
 * Of each row only the ends are weighed pixel by pixel. O(pixels).
 */
export function fillBox(
  raster: Raster,
  cx: number,
  cy: number,
  ux: number,
  uy: number,
  halfAlong: number,
  halfAcross: number,
  colour: number,
  opacity = 1,
): void {
  if (!(halfAlong > 0 && halfAcross > 0)) return
  if (raster.shapes) return raster.shapes.box(cx, cy, ux, uy, halfAlong, halfAcross, colour, opacity)
  if (Math.abs(uy) < 1e-6) {
    fillRect(raster, cx - halfAlong, cy - halfAcross, cx + halfAlong, cy + halfAcross, colour, opacity)
    return
  }
  if (Math.abs(ux) < 1e-6) {
    fillRect(raster, cx - halfAcross, cy - halfAlong, cx + halfAcross, cy + halfAlong, colour, opacity)
    return
  }
  if (Math.min(halfAlong, halfAcross) < sliverHalf) {
    if (halfAlong >= halfAcross) fillSliver(raster, cx, cy, ux, uy, halfAlong, halfAcross, colour, opacity)
    else fillSliver(raster, cx, cy, -uy, ux, halfAcross, halfAlong, colour, opacity)
    return
  }
  const { width, height, pixels } = raster
  const reachY = Math.abs(uy) * (halfAlong + 0.5) + Math.abs(ux) * (halfAcross + 0.5)
  const top = Math.max(Math.ceil(cy - reachY - 0.5), 0)
  const bottom = Math.min(Math.floor(cy + reachY - 0.5), height - 1)
  const full = Math.round(256 * opacity)
  const weights = { halfAlong, halfAcross, ux, uy, full, colour }
  const alongReach = (halfAlong + 0.5) / Math.abs(ux)
  const acrossReach = (halfAcross + 0.5) / Math.abs(uy)
  const alongCore = (halfAlong - 0.5) / Math.abs(ux)
  const acrossCore = (halfAcross - 0.5) / Math.abs(uy)
  for (let row = top; row <= bottom; row++) {
    const dy = row + 0.5 - cy
    // along = dx·ux + dy·uy and across = dy·ux − dx·uy are straight in dx: each bound is a span of columns
    const alongMiddle = cx - 0.5 - (dy * uy) / ux
    const acrossMiddle = cx - 0.5 + (dy * ux) / uy
    const from = Math.max(alongMiddle - alongReach, acrossMiddle - acrossReach, 0)
    const to = Math.min(alongMiddle + alongReach, acrossMiddle + acrossReach, width - 1)
    const first = Math.ceil(from)
    const last = Math.floor(to)
    if (first > last) continue
    const coreFirst = Math.ceil(Math.max(alongMiddle - alongCore, acrossMiddle - acrossCore, first))
    const coreLast = Math.floor(Math.min(alongMiddle + alongCore, acrossMiddle + acrossCore, last))
    const start = row * width
    if (coreFirst > coreLast) {
      mixEdge(pixels, start, first, last, cx, dy, weights)
      continue
    }
    mixEdge(pixels, start, first, coreFirst - 1, cx, dy, weights)
    mixRun(pixels, start + coreFirst, start + coreLast + 1, colour, full)
    mixEdge(pixels, start, coreLast + 1, last, cx, dy, weights)
  }
}

interface BoxWeights {
  readonly halfAlong: number
  readonly halfAcross: number
  readonly ux: number
  readonly uy: number
  readonly full: number
  readonly colour: number
}

/**
 * Columns first … last of a row, each by the shares of the unit interval around it that lie within the box: of
 * half size h at distance d from the middle min(h + ½ − d, 1, 2h).
 */
function mixEdge(
  pixels: Uint32Array,
  start: number,
  first: number,
  last: number,
  cx: number,
  dy: number,
  { halfAlong, halfAcross, ux, uy, full, colour }: BoxWeights,
): void {
  const mostAlong = Math.min(1, 2 * halfAlong)
  const mostAcross = Math.min(1, 2 * halfAcross)
  let along = (first + 0.5 - cx) * ux + dy * uy
  let across = dy * ux - (first + 0.5 - cx) * uy
  for (let at = start + first; at <= start + last; at++) {
    let shareAlong = halfAlong + 0.5 - (along < 0 ? -along : along)
    let shareAcross = halfAcross + 0.5 - (across < 0 ? -across : across)
    if (shareAlong > mostAlong) shareAlong = mostAlong
    if (shareAcross > mostAcross) shareAcross = mostAcross
    const weight = shareAlong > 0 && shareAcross > 0 ? (full * shareAlong * shareAcross + 0.5) | 0 : 0
    if (weight > 0) pixels[at] = blended(pixels[at], colour, weight)
    along += ux
    across -= uy
  }
}

/** Boxes thinner than twice this are drawn as slivers. */
const sliverHalf = 1.25

/**
 * A thin box, step by step along the axis it is closer to: each step weighs the two or three pixels across by what
 * the sliver covers on the step's middle line. Ends are cut along the axis, which a thin line does not show. Half the
 * time of a box. O(length).
 */
function fillSliver(
  { width, height, pixels }: Raster,
  cx: number,
  cy: number,
  ux: number,
  uy: number,
  halfLength: number,
  halfWidth: number,
  colour: number,
  opacity: number,
): void {
  const isLevel = Math.abs(ux) >= Math.abs(uy)
  const [steps, places] = isLevel ? [width, height] : [height, width]
  const [stepStride, placeStride] = isLevel ? [1, width] : [width, 1]
  const [middle, centre] = isLevel ? [cx, cy] : [cy, cx]
  const major = Math.abs(isLevel ? ux : uy)
  const slope = isLevel ? uy / ux : ux / uy
  const from = Math.max(middle - halfLength * major, 0)
  const to = Math.min(middle + halfLength * major, steps)
  const half = halfWidth / major
  for (let step = Math.floor(from); step < to; step++) {
    const share = 256 * opacity * (Math.min(to, step + 1) - Math.max(from, step))
    const at = centre + (step + 0.5 - middle) * slope
    const low = Math.max(at - half, 0)
    const high = Math.min(at + half, places)
    for (let place = Math.floor(low); place < high; place++) {
      const covered = Math.min(high, place + 1) - Math.max(low, place)
      const weight = (share * covered + 0.5) | 0
      const pixel = step * stepStride + place * placeStride
      if (weight > 0) pixels[pixel] = blended(pixels[pixel], colour, weight)
    }
  }
}

/** A straight line with square ends at its two points. */
export function strokeLine(
  raster: Raster,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  lineWidth: number,
  colour: number,
  opacity = 1,
): void {
  const length = Math.hypot(x1 - x0, y1 - y0)
  if (!(length > 0)) return
  const middleX = (x0 + x1) / 2
  const middleY = (y0 + y1) / 2
  const alongX = (x1 - x0) / length
  const alongY = (y1 - y0) / length
  fillBox(raster, middleX, middleY, alongX, alongY, length / 2, lineWidth / 2, colour, opacity)
}

/** A filled circle. O(pixels). */
export function fillDot(
  raster: Raster,
  cx: number,
  cy: number,
  radius: number,
  colour: number,
  opacity = 1,
): void {
  strokeRing(raster, cx, cy, 0, radius, colour, opacity)
}

/** What lies between two circles of radii inner < outer round a point; inner 0 is a filled circle. */
export function strokeRing(
  raster: Raster,
  cx: number,
  cy: number,
  inner: number,
  outer: number,
  colour: number,
  opacity = 1,
): void {
  if (!(outer > 0 && outer > inner)) return
  if (raster.shapes) return raster.shapes.ring(cx, cy, inner, outer, colour, opacity)
  const { width, height, pixels } = raster
  const reach = outer + 0.5
  // Inside, a filled circle needs no weighing.
  const isSolid = inner <= 0 && opacity === 1 && outer > 0.5
  const core2 = (outer - 0.5) ** 2
  const top = Math.max(Math.ceil(cy - reach - 0.5), 0)
  const bottom = Math.min(Math.floor(cy + reach - 0.5), height - 1)
  for (let row = top; row <= bottom; row++) {
    const dy = row + 0.5 - cy
    const half = Math.sqrt(Math.max(reach * reach - dy * dy, 0))
    const first = Math.max(Math.ceil(cx - half - 0.5), 0)
    const last = Math.min(Math.floor(cx + half - 0.5), width - 1)
    for (let column = first; column <= last; column++) {
      const dx = column + 0.5 - cx
      const squared = dx * dx + dy * dy
      if (isSolid && squared <= core2) {
        pixels[row * width + column] = colour
        continue
      }
      const distance = Math.sqrt(squared)
      const outside = Math.min(Math.max(outer + 0.5 - distance, 0), 1)
      const hole = inner > 0 ? Math.min(Math.max(inner + 0.5 - distance, 0), 1) : 0
      const weight = Math.round(256 * opacity * (outside - hole))
      const at = row * width + column
      if (weight > 0) pixels[at] = weight >= 256 ? colour : blended(pixels[at], colour, weight)
    }
  }
}
