import { mixOf, type Palette } from './palette.ts'
import { packed } from './colour.ts'
import type { MapGeometry } from './geometry.ts'
import { frameStrength, levelOf, type Level } from './lod.ts'
import { visibleRectM, type RectM, type View } from './mapTypes.ts'
import type { Raster } from './rasteriser.ts'

/** Colours of a palette as pixels, under the same names. */
export type Inks = { readonly [K in Exclude<keyof Palette, 'name' | 'readings'>]: number }

/**
 * A view made ready for drawing, in device pixels: column = x0 + k · east, row = y0 − k · north. The origin is
 * a whole pixel, so that what is drawn on whole pixels does not shiver while the view moves.
 */
export interface Sight {
  readonly raster: Raster
  readonly x0: number
  readonly y0: number
  readonly k: number
  readonly dpr: number
  readonly level: Level
  /** 0 … 1: how far modules have come forward since they began to be drawn. */
  readonly strength: number
  /** The scale is changing: what costs time and adds only finish is left out. */
  readonly isSwift: boolean
  /** The ground is tinted by its volts: what lightens or darkens it besides would be taken for them. */
  readonly isGroundTinted: boolean
  readonly visibleM: RectM
  readonly inks: Inks
  /** A table seen from between far and near. */
  readonly tableFill: number
}

/** Symbols and widths reach beyond what they stand for by no more than this, in CSS pixels. */
const marginPx = 30

export function sightOf(
  raster: Raster,
  geometry: MapGeometry,
  view: View,
  palette: Palette,
  isSwift = false,
  isGroundTinted = false,
): Sight {
  const seen = visibleRectM(view)
  const marginM = marginPx / view.k
  const strength = frameStrength(view.k, geometry)
  return {
    raster,
    x0: Math.round(view.x * view.dpr),
    y0: Math.round(view.y * view.dpr),
    k: view.k * view.dpr,
    dpr: view.dpr,
    level: levelOf(view.k, geometry),
    strength,
    isSwift,
    isGroundTinted,
    visibleM: {
      minX: seen.minX - marginM,
      minY: seen.minY - marginM,
      maxX: seen.maxX + marginM,
      maxY: seen.maxY + marginM,
    },
    inks: inksOf(palette),
    tableFill: packed(mixOf(palette.tableFar, palette.module, strength)),
  }
}

function inksOf(palette: Palette): Inks {
  const { name: _, readings: __, ...colours } = palette
  return Object.fromEntries(Object.entries(colours).map(([key, colour]) => [key, packed(colour)])) as Inks
}
