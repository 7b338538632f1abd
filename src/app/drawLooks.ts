import { drawSwatch } from '../canvas/drawSwatch.ts'
import type { Swatch } from '../canvas/legendTypes.ts'
import { palettes, type ThemeName } from '../canvas/palette.ts'
import { drawReadingSample, type GlyphInks } from '../canvas/readingGlyph.ts'
import { drawSightMark } from '../canvas/sightMarks.ts'
import type { DrawSight } from '../panels/plan/drawSight.ts'
import type { LineLook } from '../state/readingLook.ts'

interface Sheet {
  readonly context: CanvasRenderingContext2D
  readonly widthPx: number
  readonly heightPx: number
}

/** The canvas cleared and at the resolution of the screen. */
function sheetOf(canvas: HTMLCanvasElement): Sheet | null {
  const context = canvas.getContext('2d')
  if (!context) return null
  const ratio = window.devicePixelRatio
  const { clientWidth: widthPx, clientHeight: heightPx } = canvas
  canvas.width = Math.round(widthPx * ratio)
  canvas.height = Math.round(heightPx * ratio)
  context.scale(ratio, ratio)
  return { context, widthPx, heightPx }
}

/** Draws looks into small canvases with the strokes and colours of the map, for lists and legend. */
export function lookPainter(themeName: ThemeName): (look: LineLook, canvas: HTMLCanvasElement) => void {
  const palette = palettes[themeName]
  return (look, canvas) => {
    const sheet = sheetOf(canvas)
    if (!sheet) return
    const inks: GlyphInks = { line: palette.readings[look], halo: palette.halo }
    drawReadingSample(sheet.context, look, sheet, inks)
  }
}

/** Draws the marks of what a plan would show as the map does near. */
export function sightPainter(themeName: ThemeName): DrawSight {
  return (form, canvas) => {
    const sheet = sheetOf(canvas)
    if (!sheet) return
    const at = { x: sheet.widthPx / 2, y: sheet.heightPx / 2 }
    drawSightMark(sheet.context, form, at, 7, palettes[themeName])
  }
}

/** Draws what the legend speaks of as the map does. */
export function paintSwatch(swatch: Swatch, canvas: HTMLCanvasElement): void {
  const sheet = sheetOf(canvas)
  if (sheet) drawSwatch(sheet.context, swatch, sheet)
}
