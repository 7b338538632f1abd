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

export function clear({ pixels }: Raster, colour: number): void {
  pixels.fill(colour)
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
  const { width, height, pixels } = raster
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
  const { width, height, pixels } = raster
  const left = Math.max(x0, 0)
  const right = Math.min(x1, width)
  const top = Math.max(y0, 0)
  const bottom = Math.min(y1, height)
  if (!(left < right && top < bottom)) return
  const firstWhole = Math.ceil(left)
  const lastWhole = Math.floor(right)
  for (let row = Math.floor(top); row < bottom; row++) {
    const covered = Math.min(bottom, row + 1) - Math.max(top, row)
    const weight = Math.round(256 * opacity * covered)
    const start = row * width
    if (firstWhole > lastWhole) {
      mixRun(pixels, start + lastWhole, start + firstWhole, colour, Math.round(weight * (right - left)))
      continue
    }
    if (firstWhole > left) {
      const share = Math.round(weight * (firstWhole - left))
      mixRun(pixels, start + firstWhole - 1, start + firstWhole, colour, share)
    }
    mixRun(pixels, start + firstWhole, start + lastWhole, colour, weight)
    if (right > lastWhole) {
      mixRun(
        pixels,
        start + lastWhole,
        start + lastWhole + 1,
        colour,
        Math.round(weight * (right - lastWhole)),
      )
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
  if (Math.abs(uy) < 1e-6) {
    fillRect(raster, cx - halfAlong, cy - halfAcross, cx + halfAlong, cy + halfAcross, colour, opacity)
    return
  }
  if (Math.abs(ux) < 1e-6) {
    fillRect(raster, cx - halfAcross, cy - halfAlong, cx + halfAcross, cy + halfAlong, colour, opacity)
    return
  }
  const { width, height, pixels } = raster
  const reachY = Math.abs(uy) * (halfAlong + 0.5) + Math.abs(ux) * (halfAcross + 0.5)
  const top = Math.max(Math.ceil(cy - reachY - 0.5), 0)
  const bottom = Math.min(Math.floor(cy + reachY - 0.5), height - 1)
  const full = Math.round(256 * opacity)
  for (let row = top; row <= bottom; row++) {
    const dy = row + 0.5 - cy
    // along = dx·ux + dy·uy and across = dy·ux − dx·uy are straight in dx: each bound is a span of dx
    const alongMiddle = (-dy * uy) / ux
    const acrossMiddle = (dy * ux) / uy
    const alongReach = (halfAlong + 0.5) / Math.abs(ux)
    const acrossReach = (halfAcross + 0.5) / Math.abs(uy)
    const from = Math.max(alongMiddle - alongReach, acrossMiddle - acrossReach) + cx - 0.5
    const to = Math.min(alongMiddle + alongReach, acrossMiddle + acrossReach) + cx - 0.5
    const first = Math.max(Math.ceil(from), 0)
    const last = Math.min(Math.floor(to), width - 1)
    if (first > last) continue
    const alongCore = (halfAlong - 0.5) / Math.abs(ux)
    const acrossCore = (halfAcross - 0.5) / Math.abs(uy)
    const coreFrom = Math.max(alongMiddle - alongCore, acrossMiddle - acrossCore) + cx - 0.5
    const coreTo = Math.min(alongMiddle + alongCore, acrossMiddle + acrossCore) + cx - 0.5
    const coreFirst = Math.min(Math.max(Math.ceil(coreFrom), first), last + 1)
    const coreLast = Math.min(Math.floor(coreTo), last)
    const start = row * width
    for (let column = first; column <= last; column++) {
      if (column === coreFirst && coreLast >= coreFirst) {
        mixRun(pixels, start + coreFirst, start + coreLast + 1, colour, full)
        column = coreLast
        continue
      }
      const dx = column + 0.5 - cx
      const inside = shareInside(dx * ux + dy * uy, halfAlong) * shareInside(dy * ux - dx * uy, halfAcross)
      const weight = Math.round(full * inside)
      if (weight > 0) pixels[start + column] = blended(pixels[start + column], colour, weight)
    }
  }
}

/** Share of the unit interval around `at` that lies within −half … half. */
function shareInside(at: number, half: number): number {
  const inside = Math.min(at + 0.5, half) - Math.max(at - 0.5, -half)
  return inside > 0 ? Math.min(inside, 1) : 0
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
  const { width, height, pixels } = raster
  const reach = outer + 0.5
  const top = Math.max(Math.ceil(cy - reach - 0.5), 0)
  const bottom = Math.min(Math.floor(cy + reach - 0.5), height - 1)
  for (let row = top; row <= bottom; row++) {
    const dy = row + 0.5 - cy
    const half = Math.sqrt(Math.max(reach * reach - dy * dy, 0))
    const first = Math.max(Math.ceil(cx - half - 0.5), 0)
    const last = Math.min(Math.floor(cx + half - 0.5), width - 1)
    for (let column = first; column <= last; column++) {
      const dx = column + 0.5 - cx
      const distance = Math.sqrt(dx * dx + dy * dy)
      const outside = Math.min(Math.max(outer + 0.5 - distance, 0), 1)
      const hole = inner > 0 ? Math.min(Math.max(inner + 0.5 - distance, 0), 1) : 0
      const weight = Math.round(256 * opacity * (outside - hole))
      const at = row * width + column
      if (weight > 0) pixels[at] = weight >= 256 ? colour : blended(pixels[at], colour, weight)
    }
  }
}
