import type { LineLook } from '../state/readingLook.ts'
import { shortCaution } from '../text/cautions.ts'
import { legendWord } from '../text/legendText.ts'
import { lineEntries } from '../text/readingLookText.ts'
import { printable } from '../text/where.ts'
import type { Words } from '../text/words.ts'
import { drawSwatch } from './drawSwatch.ts'
import type { LegendEntry } from './legendTypes.ts'
import { labelFamily } from './overlayDraw.ts'
import type { Palette } from './palette.ts'
import { drawReadingSample } from './readingGlyph.ts'

type Context = CanvasRenderingContext2D

const titleFont = `700 14px ${labelFamily}`
const wordFont = `500 12px ${labelFamily}`
const marginPx = 12
const linePx = 26
const textLinePx = 17
const swatchPx = { widthPx: 34, heightPx: 24 } as const

/** What stands below a picture of the map, so that it can be read by itself. */
export interface Caption {
  readonly title: string
  readonly entries: readonly LegendEntry[]
  readonly looks: readonly LineLook[]
  readonly words: Words
  readonly palette: Palette
}

interface Piece {
  readonly word: string
  readonly draw: (context: Context) => void
}

/** Draws the caption from `topPx` down; its height, also where `isDrawn` is false and it is only measured. */
export function drawCaption(
  context: Context,
  caption: Caption,
  widthPx: number,
  topPx: number,
  isDrawn: boolean,
): number {
  const { palette, title } = caption
  const pieces = piecesOf(caption)
  context.setLineDash([])
  context.textBaseline = 'middle'
  context.textAlign = 'left'
  let y = topPx + marginPx + 8
  if (isDrawn) text(context, printable(title), marginPx, y, titleFont, palette.label)
  y += linePx
  let x = marginPx
  for (const { word, draw } of pieces) {
    context.font = wordFont
    const needPx = swatchPx.widthPx + 6 + context.measureText(word).width + 16
    if (x > marginPx && x + needPx > widthPx - marginPx) {
      x = marginPx
      y += linePx
    }
    if (isDrawn) {
      context.save()
      context.translate(x, y - swatchPx.heightPx / 2)
      draw(context)
      context.restore()
      text(context, word, x + swatchPx.widthPx + 6, y, wordFont, palette.label)
    }
    x += needPx
  }
  if (pieces.length > 0) y += linePx
  context.font = wordFont
  for (const line of wrapped(context, shortCaution(), widthPx - 2 * marginPx)) {
    if (isDrawn) text(context, line, marginPx, y, wordFont, palette.label)
    y += textLinePx
  }
  return y + marginPx - 8 - topPx
}

function piecesOf({ entries, looks, words, palette }: Caption): readonly Piece[] {
  return [
    ...entries.map(({ key, swatch }) => ({
      word: legendWord(key, words),
      draw: (context: Context) => drawSwatch(context, swatch, swatchPx),
    })),
    ...lineEntries(looks).map(({ look, word }) => ({
      word,
      draw: (context: Context) =>
        drawReadingSample(context, look, swatchPx, { line: palette.readings[look], halo: palette.halo }),
    })),
  ]
}

function text(context: Context, words: string, x: number, y: number, font: string, ink: string): void {
  context.font = font
  context.fillStyle = ink
  context.textAlign = 'left'
  context.textBaseline = 'middle'
  context.fillText(words, x, y)
}

function wrapped(context: Context, words: string, widthPx: number): readonly string[] {
  const lines: string[] = []
  for (const word of words.split(' ')) {
    const line = lines.at(-1)
    const longer = line === undefined ? word : `${line} ${word}`
    if (line !== undefined && context.measureText(longer).width <= widthPx) lines[lines.length - 1] = longer
    else lines.push(word)
  }
  return lines
}
