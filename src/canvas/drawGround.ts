import type { GroundPicture } from '../state/mapMarks.ts'
import { drawGroundVolts } from './drawGroundVolts.ts'
import type { PathSet } from './pathSet.ts'
import { clear, fillDot, fillRect, strokeLine } from './rasteriser.ts'
import type { Sight } from './sight.ts'
import type { MapGeometry } from './geometry.ts'
import type { RectM } from './mapTypes.ts'

const aisleHalfM = 0.45
/** An aisle is still seen over tinted ground, and does not look like ground without volts. */
const aisleOverVolts = 0.14
const marksApartPx = 90
const markHalfPx = 3

/** Ground with its volts where they are shown, aisles, obstacles, and marks at round distances by which the eye holds on. */
export function drawGround(sight: Sight, geometry: MapGeometry, volts: GroundPicture | null = null): void {
  const { raster, inks, k, dpr } = sight
  const { aisles, obstacles } = geometry.items
  clear(raster, inks.ground)
  if (volts) drawGroundVolts(sight, volts)
  for (let i = 0; i < aisles.count; i++) {
    drawPath(sight, aisles, i, Math.max(2 * aisleHalfM * k, 2 * dpr), inks.aisle, volts ? aisleOverVolts : 1)
  }
  drawMarks(sight)
  for (let i = 0; i < obstacles.count; i++) drawPath(sight, obstacles, i, 2 * dpr, inks.obstacle)
}

/** Metres between ground marks: 1, 2 or 5 times a power of ten, so that they stand some 90 px apart or more. */
export function markStepM(pxPerM: number): number {
  const least = marksApartPx / pxPerM
  const power = 10 ** Math.floor(Math.log10(least))
  return power * ([1, 2, 5].find((times) => times * power >= least) ?? 10)
}

function drawMarks({ raster, inks, x0, y0, k, dpr, visibleM }: Sight): void {
  const stepM = markStepM(k / dpr)
  const half = Math.round(markHalfPx * dpr)
  const hair = Math.max(Math.round(dpr), 1)
  for (let i = Math.ceil(visibleM.minX / stepM); i * stepM <= visibleM.maxX; i++) {
    const column = Math.round(x0 + k * i * stepM)
    for (let j = Math.ceil(visibleM.minY / stepM); j * stepM <= visibleM.maxY; j++) {
      const row = Math.round(y0 - k * j * stepM)
      fillRect(raster, column - half, row, column + half + hair, row + hair, inks.groundMark)
      fillRect(raster, column, row - half, column + hair, row + half + hair, inks.groundMark)
    }
  }
}

export function isBoxSeen(boxes: Float64Array, i: number, seen: RectM): boolean {
  return (
    boxes[4 * i] <= seen.maxX &&
    boxes[4 * i + 1] <= seen.maxY &&
    boxes[4 * i + 2] >= seen.minX &&
    boxes[4 * i + 3] >= seen.minY
  )
}

/** A drawn way as a line with round bends; nothing where its box is out of sight. */
export function drawPath(
  sight: Sight,
  paths: PathSet,
  i: number,
  widthPx: number,
  ink: number,
  opacity = 1,
): void {
  if (!isBoxSeen(paths.boxes, i, sight.visibleM)) return
  const { raster, x0, y0, k } = sight
  const { start, x, y } = paths
  for (let p = start[i]; p + 1 < start[i + 1]; p++) {
    const column = x0 + k * x[p + 1]
    const row = y0 - k * y[p + 1]
    strokeLine(raster, x0 + k * x[p], y0 - k * y[p], column, row, widthPx, ink, opacity)
    if (p + 2 < start[i + 1] && widthPx > 2 && opacity === 1) fillDot(raster, column, row, widthPx / 2, ink)
  }
}
