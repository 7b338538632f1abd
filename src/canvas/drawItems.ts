import type { MapGeometry } from './geometry.ts'
import { drawPath, isBoxSeen } from './drawGround.ts'
import { earthBarHalfM } from '../layout/itemOutline.ts'
import { conductorEndHalfM, plateForm, stripForm } from './itemGeometry.ts'
import { isAtLeast, smallest } from './lod.ts'
import { isInRect } from './mapTypes.ts'
import { jointPointM, jointWayM } from './markPoints.ts'
import { placesIn } from './placesIn.ts'
import { fillBox, fillDot, fillRect, strokeLine } from './rasteriser.ts'
import type { Sight } from './sight.ts'

const conductorWidthM = 0.04
const mostConductorPx = 4

/** Width of conductors in CSS pixels: to scale, but no thinner than can be seen. */
export function conductorWidthPx(pxPerM: number): number {
  return Math.min(Math.max(conductorWidthM * pxPerM, smallest.conductorPx), mostConductorPx)
}

/** Colour inside a part by its number, where it is told by one; null: as it is drawn without. */
export type PartInk = (part: number) => number | null

/** What current runs along: jumpers, buried strips, conductors, added joints. O(items in view). */
export function drawWires(sight: Sight, geometry: MapGeometry, inkOf: PartInk): void {
  drawJumpers(sight, geometry)
  drawStrips(sight, geometry, inkOf)
  drawConductors(sight, geometry)
  drawAddedJoints(sight, geometry)
}

/** Symbols of equipment and of conductors' ends, which stay to be seen over a current. O(items). */
export function drawSymbols(sight: Sight, geometry: MapGeometry, inkOf: PartInk): void {
  if (isAtLeast(sight.level, 'members')) drawConductorEnds(sight, geometry, inkOf)
  drawEnclosures(sight, geometry, inkOf)
  drawEarthBars(sight, geometry, inkOf)
  drawElectrodes(sight, geometry, inkOf)
}

function drawJumpers(sight: Sight, geometry: MapGeometry): void {
  if (!isAtLeast(sight.level, 'members')) return
  const { index, runs } = geometry
  const { rows } = index
  for (let run = 0; run < runs.count; run++) {
    const row = rows.runs.row[run]
    const { count } = index.drawing.rows[row].links
    const { first, last } = placesIn(geometry, run, sight.visibleM)
    for (let place = first; place <= last; place++) {
      const gap = rows.runs.ordinal[run] + place
      if (gap + 1 >= rows.tables[row]) continue
      for (let j = 0; j < count; j++) drawJumper(sight, geometry, rows.jumperStart[row] + gap * count + j)
    }
  }
}

/** A jumper is two lines side by side, a conductor one: between them is so much. */
export const jumperGapPx = 1.5

function drawJumper(sight: Sight, geometry: MapGeometry, joint: number): void {
  if (geometry.absentJoints.has(joint)) return
  const { raster, x0, y0, k, dpr, inks } = sight
  const way = jointWayM(geometry, joint)
  const [fromX, fromY] = [x0 + k * way[0].x, y0 - k * way[0].y]
  const [toX, toY] = [x0 + k * way[1].x, y0 - k * way[1].y]
  const widthPx = Math.min(conductorWidthPx(k / dpr), 2) * dpr
  const gapPx = jumperGapPx * dpr
  strokeLine(raster, fromX, fromY, toX, toY, 2 * widthPx + gapPx + 2 * dpr, inks.halo)
  strokeLine(raster, fromX, fromY, toX, toY, 2 * widthPx + gapPx, inks.conductor)
  strokeLine(raster, fromX, fromY, toX, toY, gapPx, inks.halo)
  if (sight.level === 'joints') {
    fillDot(
      raster,
      (fromX + toX) / 2,
      (fromY + toY) / 2,
      Math.max(0.05 * k, smallest.jointPx * dpr),
      inks.joint,
    )
  }
}

function drawConductors(sight: Sight, geometry: MapGeometry): void {
  const { k, dpr, inks } = sight
  const { conductors } = geometry.items
  const widthPx = conductorWidthPx(k / dpr) * dpr
  for (let c = 0; c < conductors.count; c++) drawPath(sight, conductors, c, widthPx + 2 * dpr, inks.halo)
  for (let c = 0; c < conductors.count; c++) drawPath(sight, conductors, c, widthPx, inks.conductor)
}

function drawConductorEnds(sight: Sight, { index, items, absentJoints }: MapGeometry, inkOf: PartInk): void {
  const { raster, x0, y0, k, dpr, inks, visibleM } = sight
  const { conductors, drawing } = index
  const endPx = Math.max(conductorEndHalfM * k, 2.2 * dpr)
  for (let p = 0; p < conductors.partCount; p++) {
    const [x, y] = [items.ends[2 * p], items.ends[2 * p + 1]]
    if (!isInRect(visibleM, x, y)) continue
    const [column, row] = [x0 + k * x, y0 - k * y]
    const fill = inkOf(index.conductorStart + p)
    // a colour needs more room than a mark
    const halfPx = fill === null ? endPx : Math.max(endPx, 4 * dpr)
    const insidePx = halfPx - 1.2 * dpr
    fillBox(raster, column, row, 1, 0, halfPx, halfPx, inks.conductor)
    fillBox(raster, column, row, 1, 0, insidePx, insidePx, fill ?? inks.equipmentFill)
    if (sight.level !== 'joints') continue
    const { landing } = drawing.conductors[conductors.conductor[p]].points[conductors.place[p]]
    if (!landing || absentJoints.has(index.conductorJointStart + conductors.jointStart[p])) continue
    const radius = Math.max(0.05 * k, smallest.jointPx * dpr)
    fillDot(raster, x0 + k * items.lugs[2 * p], y0 - k * items.lugs[2 * p + 1], radius, inks.joint)
  }
}

/** Buried metal is dashed: it is not to be seen on site. */
function drawStrips(sight: Sight, { index, items }: MapGeometry, inkOf: PartInk): void {
  const { raster, x0, y0, k, dpr, inks, visibleM } = sight
  const { strips, electrodeForm } = items
  const dash = 8 * dpr
  for (let e = 0; e < strips.count; e++) {
    if (electrodeForm[e] !== stripForm || !isBoxSeen(strips.boxes, e, visibleM)) continue
    const fill = inkOf(index.electrodeStart + e)
    for (let p = strips.start[e]; p + 1 < strips.start[e + 1]; p++) {
      const [fromX, fromY] = [x0 + k * strips.x[p], y0 - k * strips.y[p]]
      const [toX, toY] = [x0 + k * strips.x[p + 1], y0 - k * strips.y[p + 1]]
      const lengthPx = Math.hypot(toX - fromX, toY - fromY)
      if (lengthPx === 0) continue
      const [ux, uy] = [(toX - fromX) / lengthPx, (toY - fromY) / lengthPx]
      const { from, to } = spanSeen(fromX, fromY, ux, uy, lengthPx, raster.width, raster.height)
      for (let at = Math.floor(from / (1.6 * dash)) * 1.6 * dash; at < to; at += 1.6 * dash) {
        const end = Math.min(at + dash, lengthPx)
        const [startX, startY] = [fromX + at * ux, fromY + at * uy]
        const [endX, endY] = [fromX + end * ux, fromY + end * uy]
        const rimPx = fill === null ? 2.5 * dpr : 4.5 * dpr
        strokeLine(raster, startX, startY, endX, endY, rimPx, inks.equipment)
        if (fill !== null) strokeLine(raster, startX, startY, endX, endY, 2.5 * dpr, fill)
      }
    }
  }
}

/** The stretch of a ray on the picture, roughly: so that dashes are counted only where they are seen. */
function spanSeen(
  x: number,
  y: number,
  ux: number,
  uy: number,
  length: number,
  width: number,
  height: number,
) {
  const middle = (width / 2 - x) * ux + (height / 2 - y) * uy
  const reach = Math.hypot(width, height) / 2
  return { from: Math.max(middle - reach, 0), to: Math.min(middle + reach, length) }
}

/** A box with its door: outline, a line for the door's hinge side and a handle once there is room. */
function drawEnclosures(
  { raster, x0, y0, k, dpr, inks, visibleM }: Sight,
  { index, items }: MapGeometry,
  inkOf: PartInk,
): void {
  const { enclosures } = items
  const least = (smallest.symbolPx * dpr) / 2
  for (let i = 0; i < enclosures.length; i += 6) {
    const [x, y, ux, uyNorth, halfWidth, halfDepth] = enclosures.subarray(i, i + 6)
    const reachM = Math.hypot(halfWidth, halfDepth)
    const seen = { ...visibleM, minX: visibleM.minX - reachM, maxX: visibleM.maxX + reachM }
    if (!isInRect({ ...seen, minY: seen.minY - reachM, maxY: seen.maxY + reachM }, x, y)) continue
    const uy = -uyNorth
    const [column, row] = [x0 + k * x, y0 - k * y]
    const halfX = Math.max(halfWidth * k, least)
    const halfY = Math.max(halfDepth * k, least * 0.7)
    const linePx = 1.6 * dpr
    fillBox(raster, column, row, ux, uy, halfX + linePx + dpr, halfY + linePx + dpr, inks.halo)
    fillBox(raster, column, row, ux, uy, halfX + linePx, halfY + linePx, inks.equipment)
    const fill = inkOf(index.enclosureStart + i / 6) ?? inks.equipmentFill
    fillBox(raster, column, row, ux, uy, halfX, halfY, fill)
    if (halfY < 5 * dpr) continue
    const doorX = halfX * 0.72
    fillBox(raster, column - doorX * ux, row - doorX * uy, ux, uy, linePx / 2, halfY, inks.equipment)
    fillDot(raster, column + doorX * ux, row + doorX * uy, 1.8 * dpr, inks.equipment)
  }
}

/** A bar with studs. */
function drawEarthBars(
  { raster, x0, y0, k, dpr, inks, visibleM }: Sight,
  { index, items }: MapGeometry,
  inkOf: PartInk,
): void {
  const halfX = Math.max(earthBarHalfM.x * k, smallest.symbolPx * dpr)
  const halfY = Math.max(earthBarHalfM.y * k, 3 * dpr)
  for (let i = 0; i < items.earthBars.length; i += 2) {
    if (!isInRect(visibleM, items.earthBars[i], items.earthBars[i + 1])) continue
    const column = x0 + k * items.earthBars[i]
    const row = y0 - k * items.earthBars[i + 1]
    const rim = 1.5 * dpr
    fillRect(
      raster,
      column - halfX - rim,
      row - halfY - rim,
      column + halfX + rim,
      row + halfY + rim,
      inks.halo,
    )
    fillRect(raster, column - halfX, row - halfY, column + halfX, row + halfY, inks.equipment)
    const fill = inkOf(index.earthBarStart + i / 2)
    if (fill !== null) {
      const [inX, inY] = [halfX - dpr, halfY - dpr]
      fillRect(raster, column - inX, row - inY, column + inX, row + inY, fill)
      for (const stud of [-0.66, 0, 0.66]) {
        fillDot(raster, column + stud * halfX, row, halfY * 0.35, inks.equipment)
      }
      continue
    }
    for (const stud of [-0.66, 0, 0.66]) {
      fillDot(raster, column + stud * halfX, row, halfY * 0.5, inks.equipmentFill)
    }
  }
}

const earthStrokes = [
  { step: 0, share: 1 },
  { step: 0.42, share: 0.64 },
  { step: 0.84, share: 0.3 },
] as const

/** The trade's sign of earth below rods and plates: three strokes, each shorter than the one above. */
function drawElectrodes(sight: Sight, { index, items }: MapGeometry, inkOf: PartInk): void {
  const { raster, x0, y0, k, dpr, inks, visibleM } = sight
  const { electrodes, electrodeForm } = items
  const size = Math.min(Math.max(0.35 * k, smallest.symbolPx * dpr * 0.75), 16 * dpr)
  for (let e = 0; e < electrodeForm.length; e++) {
    const [x, y, halfM] = electrodes.subarray(3 * e, 3 * e + 3)
    if (electrodeForm[e] === stripForm || !isInRect(visibleM, x, y)) continue
    const [column, row] = [x0 + k * x, y0 - k * y]
    const linePx = Math.max(1.6 * dpr, size / 6)
    const plate = Math.max(halfM * k, size / 2)
    const stemFrom = electrodeForm[e] === plateForm ? row + plate : row
    const stemTo = stemFrom + size
    for (const [growPx, ink] of [
      [1.5 * dpr, inks.halo],
      [0, inks.equipment],
    ]) {
      const half = linePx / 2 + growPx
      fillRect(raster, column - half, stemFrom, column + half, stemTo, ink)
      for (const { step, share } of earthStrokes) {
        const at = stemTo + step * size
        const reach = share * size + growPx
        fillRect(raster, column - reach, at - half, column + reach, at + half, ink)
      }
    }
    const fill = inkOf(index.electrodeStart + e)
    if (electrodeForm[e] === plateForm) {
      fillRect(raster, column - plate, row - plate, column + plate, row + plate, inks.equipment)
      const inner = plate - linePx
      fillRect(raster, column - inner, row - inner, column + inner, row + inner, fill ?? inks.equipmentFill)
    } else {
      fillDot(raster, column, row, size * 0.42 + dpr, inks.halo)
      fillDot(raster, column, row, size * 0.42, inks.equipment)
      if (fill !== null) fillDot(raster, column, row, size * 0.42 - 1.2 * dpr, fill)
    }
  }
}

/** Extra joints and joints added as built: thin lines between what they join. */
function drawAddedJoints(sight: Sight, geometry: MapGeometry): void {
  const { raster, x0, y0, k, dpr, inks, visibleM } = sight
  const { index } = geometry
  for (let joint = index.extraJointStart; joint < index.electrodeJointStart; joint++) {
    const way = jointWayM(geometry, joint)
    for (let i = 0; i + 1 < way.length; i++) {
      const [a, b] = [way[i], way[i + 1]]
      strokeLine(raster, x0 + k * a.x, y0 - k * a.y, x0 + k * b.x, y0 - k * b.y, 1.5 * dpr, inks.conductor)
    }
    const at = jointPointM(geometry, joint)
    if (!isInRect(visibleM, at.x, at.y)) continue
    fillDot(raster, x0 + k * at.x, y0 - k * at.y, Math.max(0.05 * k, smallest.jointPx * dpr), inks.joint)
  }
}
