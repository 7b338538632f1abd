import type { SuspectMark } from '../state/mapMarks.ts'
import { packed } from './colour.ts'
import type { MapGeometry } from './geometry.ts'
import { isAtLeast, smallest, type Level } from './lod.ts'
import { isInRect } from './mapTypes.ts'
import { jointPointM, jointWayM } from './markPoints.ts'
import { suspectColour, suspicionShare, type Palette } from './palette.ts'
import { fillDot, strokeLine } from './rasteriser.ts'
import type { Sight } from './sight.ts'

/** A smaller share of the current is not drawn: its line would say more than it carries. */
export const leastCurrent = 0.005
/** Widths of no current and of all of it, in CSS pixels. */
export const currentFromPx = 1
export const fullCurrentPx = 7
/** Narrower lines have no pixel of their own colour. */
const leastFullPx = 2
/** Lines run along tables: the widest covers this much of one. */
const mostTableShare = 0.2

/**
 * Width of all the current at a zoom, in CSS pixels: no more than a share of the narrowest table, by half pixels, so that
 * the strongest path leaves its table to be seen from far.
 */
export function widestCurrentPx(pxPerM: number, { tableShortM }: Pick<MapGeometry, 'tableShortM'>): number {
  const ofTablePx = Math.floor(2 * mostTableShare * pxPerM * tableShortM) / 2
  return Math.min(Math.max(ofTablePx, leastFullPx), fullCurrentPx)
}

/** Width of a joint that carries a share of one ampere, in CSS pixels: a step plus the square root. */
export function currentWidthPx(perAmpere: number, widestPx = fullCurrentPx): number {
  return currentFromPx + (widestPx - currentFromPx) * Math.sqrt(Math.min(Math.abs(perAmpere), 1))
}

/** Diameter of a suspect joint in CSS pixels, the same at every zoom. */
export function suspectSizePx(probability: number): number {
  return smallest.suspectPx + 9 * suspicionShare(probability)
}

/** Straight pieces of the joints that carry current, weakest first: x₀ y₀ x₁ y₁ and the share of each. */
export interface CurrentPieces {
  readonly ends: Float64Array
  readonly perAmpere: Float32Array
  /** The joint of each piece. */
  readonly joints: Int32Array
}

/** O(joints), and a few numbers for each that carries at least `leastCurrent`. */
export function currentPieces(geometry: MapGeometry, perAmpere: Float32Array): CurrentPieces {
  const carrying: number[] = []
  for (let joint = 0; joint < perAmpere.length; joint++) {
    if (Math.abs(perAmpere[joint]) >= leastCurrent) carrying.push(joint)
  }
  carrying.sort((a, b) => Math.abs(perAmpere[a]) - Math.abs(perAmpere[b]) || a - b)
  const ends: number[] = []
  const shares: number[] = []
  const joints: number[] = []
  for (const joint of carrying) {
    const way = jointWayM(geometry, joint)
    for (let i = 0; i + 1 < way.length; i++) {
      ends.push(way[i].x, way[i].y, way[i + 1].x, way[i + 1].y)
      shares.push(Math.abs(perAmpere[joint]))
      joints.push(joint)
    }
  }
  return {
    ends: Float64Array.from(ends),
    perAmpere: Float32Array.from(shares),
    joints: Int32Array.from(joints),
  }
}

/** From far, where lines lie close, less of a fault's current is left out. */
export function leastFaultShare(level: Level): number {
  return isAtLeast(level, 'members') ? leastCurrent : 8 * leastCurrent
}

/** The way of the current, rims first, so that crossings do not cut one another. O(pieces). */
export function drawCurrents(
  sight: Sight,
  { ends, perAmpere }: CurrentPieces,
  widestPx: number,
  leastShare = 0,
): void {
  const { raster, x0, y0, k, dpr, inks } = sight
  // a rim as wide as a line would leave nothing of a narrow table but the rim
  const rimPx = Math.min(1, widestPx / 4)
  for (const [addPx, ink] of [
    [2 * rimPx * dpr, inks.halo],
    [0, inks.current],
  ]) {
    for (let i = 0; i < perAmpere.length; i++) {
      if (perAmpere[i] < leastShare) continue
      const [fromX, fromY] = [x0 + k * ends[4 * i], y0 - k * ends[4 * i + 1]]
      const [toX, toY] = [x0 + k * ends[4 * i + 2], y0 - k * ends[4 * i + 3]]
      const widthPx = currentWidthPx(perAmpere[i], widestPx) * dpr + addPx
      if (!mayTouch(raster, fromX, fromY, toX, toY, widthPx)) continue
      strokeLine(raster, fromX, fromY, toX, toY, widthPx, ink)
      if (widthPx > 2) fillDot(raster, toX, toY, widthPx / 2, ink)
    }
  }
}

function mayTouch(
  { width, height }: { readonly width: number; readonly height: number },
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  marginPx: number,
): boolean {
  return (
    Math.max(x0, x1) > -marginPx &&
    Math.max(y0, y1) > -marginPx &&
    Math.min(x0, x1) < width + marginPx &&
    Math.min(y0, y1) < height + marginPx
  )
}

/** A cross where a joint is drawn that was found missing, the same size at every zoom. O(missing joints). */
export function drawMissing(sight: Sight, geometry: MapGeometry): void {
  const { raster, x0, y0, k, dpr, inks, visibleM } = sight
  const half = (smallest.missingPx * dpr) / 2
  for (const joint of geometry.missingJoints) {
    const at = jointPointM(geometry, joint)
    if (!isInRect(visibleM, at.x, at.y)) continue
    const [column, row] = [x0 + k * at.x, y0 - k * at.y]
    for (const [reach, width, ink] of [
      [half + dpr, 4.5 * dpr, inks.halo],
      [half, 2.25 * dpr, inks.label],
    ]) {
      strokeLine(raster, column - reach, row - reach, column + reach, row + reach, width, ink)
      strokeLine(raster, column - reach, row + reach, column + reach, row - reach, width, ink)
    }
  }
}

/** Suspects with a rim, the likeliest last. O(suspects log suspects). */
export function drawSuspects(
  sight: Sight,
  geometry: MapGeometry,
  suspects: readonly SuspectMark[],
  palette: Palette,
): void {
  const { raster, x0, y0, k, dpr, inks, visibleM } = sight
  const rising = [...suspects].sort((a, b) => a.probability - b.probability || a.joint - b.joint)
  for (const { joint, probability } of rising) {
    const at = jointPointM(geometry, joint)
    if (!isInRect(visibleM, at.x, at.y)) continue
    const [column, row] = [x0 + k * at.x, y0 - k * at.y]
    const radius = (suspectSizePx(probability) * dpr) / 2
    fillDot(raster, column, row, radius + 1.5 * dpr, inks.halo)
    fillDot(raster, column, row, radius, packed(suspectColour(palette, probability)))
  }
}
