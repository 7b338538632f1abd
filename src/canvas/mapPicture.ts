import { assert, present } from '../base/assert.ts'
import type { MapMarks } from '../state/mapMarks.ts'
import { wordsFor } from '../text/words.ts'
import { widestCurrentPx } from './drawMarks.ts'
import type { MapGeometry } from './geometry.ts'
import { legendOf } from './legend.ts'
import { levelOf } from './lod.ts'
import type { View } from './mapTypes.ts'
import { paintBase } from './paintBase.ts'
import type { Palette } from './palette.ts'
import { drawCaption, type Caption } from './pictureCaption.ts'
import type { ReadingPicture } from './readingPicture.ts'
import { SvgContext } from './svgContext.ts'
import { SvgSheet } from './svgSheet.ts'

/** What a map shows at a moment: enough to draw it again elsewhere. */
export interface MapMoment {
  readonly geometry: MapGeometry
  readonly view: View
  readonly palette: Palette
  readonly marks: MapMarks
  readonly readings: ReadingPicture
  /** Draws what lies over the base, in CSS pixels of the view. */
  readonly drawOver: (context: CanvasRenderingContext2D) => void
}

/** The base is laid on steps of a pixel; in a picture of shapes they are this much finer. */
const stepsPerPx = 16
const emptyPixels = new Uint32Array(0)

function captionOf({ geometry, view, palette, marks }: MapMoment, title: string): Caption {
  const { units } = geometry.index.drawing.facts
  return {
    title,
    entries: legendOf(
      levelOf(view.k, geometry),
      { palette, marks },
      geometry,
      widestCurrentPx(view.k, geometry),
    ),
    looks: [...new Set(marks.readings.map(({ look }) => look))],
    words: wordsFor(units),
    palette,
  }
}

type Measuring = Pick<CanvasRenderingContext2D, 'font' | 'measureText'>

/**
 * The map as SVG: what it shows now, as shapes and texts in the order in which it is drawn, and a caption below. Everything
 * that comes from the site stands in it as text. O(what is in view).
 */
export function mapPictureSvg(moment: MapMoment, title: string, measure: Measuring): string {
  const { geometry, view, palette, marks, readings, drawOver } = moment
  const { widthPx, heightPx } = view
  const caption = captionOf(moment, title)
  const measuring = new SvgContext(new SvgSheet(widthPx, heightPx), measure).asContext()
  const captionPx = Math.ceil(drawCaption(measuring, caption, widthPx, 0, false))
  const sheet = new SvgSheet(widthPx, heightPx + captionPx)
  const raster = {
    width: widthPx * stepsPerPx,
    height: heightPx * stepsPerPx,
    pixels: emptyPixels,
    shapes: sheet.sink(stepsPerPx),
  }
  paintBase(raster, geometry, { ...view, dpr: stepsPerPx }, { palette, marks, readings })
  const context = new SvgContext(sheet, measure).asContext()
  drawOver(context)
  context.fillStyle = palette.ground
  context.fillRect(0, heightPx, widthPx, captionPx)
  drawCaption(context, caption, widthPx, heightPx, true)
  return sheet.text(title)
}

/** The map as pixels on a canvas of its own, `scale` times the size on the page, with the caption below. */
export function mapPictureCanvas(moment: MapMoment, title: string, scale: number): HTMLCanvasElement {
  assert(scale >= 1 && scale <= 4, `a picture is made 1 to 4 times as large, not ${scale} times`)
  const { geometry, view, palette, marks, readings, drawOver } = moment
  const caption = captionOf(moment, title)
  const canvas = document.createElement('canvas')
  const context = present(canvas.getContext('2d', { alpha: false }), 'a canvas gives no drawing context')
  const captionPx = Math.ceil(drawCaption(context, caption, view.widthPx, 0, false))
  const width = Math.round(view.widthPx * scale)
  const height = Math.round(view.heightPx * scale)
  canvas.width = width
  canvas.height = height + Math.round(captionPx * scale)
  const image = new ImageData(width, height)
  const raster = { width, height, pixels: new Uint32Array(image.data.buffer) }
  paintBase(raster, geometry, { ...view, dpr: scale }, { palette, marks, readings })
  context.putImageData(image, 0, 0)
  context.setTransform(scale, 0, 0, scale, 0, 0)
  drawOver(context)
  context.fillStyle = palette.ground
  context.fillRect(0, view.heightPx, view.widthPx, captionPx)
  drawCaption(context, caption, view.widthPx, view.heightPx, true)
  return canvas
}

/** The canvas as a PNG file; null where the browser cannot make one. */
export function pngOf(canvas: HTMLCanvasElement): Promise<Blob | null> {
  return new Promise((resolve) => canvas.toBlob(resolve, 'image/png'))
}
