import { drawGround } from './drawGround.ts'
import { drawSymbols, drawWires, type PartInk } from './drawItems.ts'
import {
  currentPieces,
  drawCurrents,
  leastFaultShare,
  drawMissing,
  drawSuspects,
  widestCurrentPx,
  type CurrentPieces,
} from './drawMarks.ts'
import { drawReadingLines } from './drawReadingLines.ts'
import { drawTables } from './drawTables.ts'
import type { MapGeometry } from './geometry.ts'
import type { BasePaint } from './basePaint.ts'
import { drawSights } from './drawSights.ts'
import { sightTints, type SightTints } from './sightTints.ts'
import { drawVoltMembers, inkOfVolts } from './drawVoltMembers.ts'
import { drawLosses, drawVolts } from './drawVolts.ts'
import { voltTints, type VoltTints } from './voltTints.ts'
import type { View } from './mapTypes.ts'
import type { Raster } from './rasteriser.ts'
import { sightOf } from './sight.ts'

/**
 * Paints a view of the map into a raster of the view's device pixels: ground and its volts, tables with what the level shows
 * of them, conductors, currents, equipment, what a plan would show, readings, missing joints, suspects last. `pieces`, `tints`
 * and `volts` may be handed in where they are kept.
 */
export function paintBase(
  raster: Raster,
  geometry: MapGeometry,
  view: View,
  { palette, marks, readings, isSwift = false }: BasePaint,
  pieces: CurrentPieces | null = piecesOf(geometry, marks.currentPerAmpere),
  tints: SightTints | null = sightTints(geometry, marks.sights),
  volts: VoltTints | null = voltTints(geometry, marks.fault),
): void {
  const ground = marks.fault?.ground?.picture ?? null
  const sight = sightOf(raster, geometry, view, palette, isSwift, ground !== null)
  drawGround(sight, geometry, ground)
  const parts = volts?.parts ?? null
  const inkOf: PartInk = parts ? (part) => inkOfVolts(sight.inks, parts[part]) : () => null
  drawTables(
    sight,
    geometry,
    volts && {
      modules: (brush, run, place) => drawVolts(sight, geometry, volts, brush, run, place),
      members: (brush, run, place) => parts && drawVoltMembers(sight, geometry, parts, brush, run, place),
    },
  )
  drawWires(sight, geometry, inkOf)
  if (pieces)
    drawCurrents(
      sight,
      pieces,
      widestCurrentPx(view.k, geometry),
      marks.fault ? leastFaultShare(sight.level) : 0,
    )
  drawSymbols(sight, geometry, inkOf)
  if (tints) drawSights(sight, geometry, tints)
  if (volts) drawLosses(sight, geometry, volts)
  if (readings) drawReadingLines(sight, readings, palette)
  drawMissing(sight, geometry)
  drawSuspects(sight, geometry, marks.suspects, palette)
}

export function piecesOf(geometry: MapGeometry, perAmpere: Float32Array | null): CurrentPieces | null {
  return perAmpere && currentPieces(geometry, perAmpere)
}
