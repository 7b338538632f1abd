import type { PointPx } from './mapTypes.ts'
import { labelFamily } from './overlayDraw.ts'
import type { WalkHead, WalkMarks } from './overlayWalk.ts'
import type { Palette } from './palette.ts'
import type { GlyphContext } from './readingGlyph.ts'

/** What drawing a walk needs of a canvas: also text on plates. */
export type WalkContext = GlyphContext &
  Pick<CanvasRenderingContext2D, 'roundRect' | 'fillText' | 'font' | 'textAlign' | 'textBaseline'>

export const walkFont = `700 12px ${labelFamily}`

const wayPx = 2.5
const roundPx = 1.5
const rimPx = 2
/** Short dashes, no dots: dots are a poor contact's. */
const roundDash: readonly number[] = [5, 3.5]
const headPx = 8
const clipPx = 7
/** Corners of the plates: nearly square, as no plate of a suspect is. */
const plateCornerPx = 2

/**
 * Draws a walk in the ink of words, which is the strongest on any ground: ways as lines with heads, rounds as thin
 * dashes, first clips as squares, numbers light on dark. Told apart by form alone.
 */
export function drawWalk(context: WalkContext, marks: WalkMarks, { label, labelPlate, halo }: Palette): void {
  context.lineJoin = 'round'
  context.lineCap = 'butt'
  strokeLines(context, marks.rounds, roundPx + 2, halo, [])
  strokeLines(context, marks.rounds, roundPx, label, roundDash)
  strokeLines(context, marks.ways, wayPx + 2 * rimPx, halo, [])
  strokeLines(context, marks.ways, wayPx, label, [])
  for (const head of marks.heads) drawHead(context, head, label, halo)
  for (const at of marks.clips) drawClip(context, at, label, halo)
  context.font = walkFont
  context.textAlign = 'center'
  context.textBaseline = 'middle'
  for (const { of, box } of marks.plates) {
    const { left, top, right, bottom } = box
    context.beginPath()
    context.roundRect(left, top, right - left, bottom - top, plateCornerPx)
    context.strokeStyle = halo
    context.lineWidth = 3
    context.stroke()
    context.fillStyle = label
    context.fill()
    context.fillStyle = labelPlate
    context.fillText(of, (left + right) / 2, (top + bottom) / 2 + 0.5)
  }
}

function strokeLines(
  context: WalkContext,
  lines: readonly (readonly PointPx[])[],
  widthPx: number,
  ink: string,
  dash: readonly number[],
): void {
  context.strokeStyle = ink
  context.lineWidth = widthPx
  context.setLineDash([...dash])
  for (const line of lines) {
    context.beginPath()
    line.forEach(({ x, y }, k) => (k === 0 ? context.moveTo(x, y) : context.lineTo(x, y)))
    context.stroke()
  }
  context.setLineDash([])
}

function drawHead(context: WalkContext, { at, towards }: WalkHead, ink: string, halo: string): void {
  const place = (along: number, across: number): [number, number] => [
    at.x + headPx * (along * towards.x - across * towards.y),
    at.y + headPx * (along * towards.y + across * towards.x),
  ]
  context.beginPath()
  context.moveTo(...place(1, 0))
  context.lineTo(...place(-0.7, 0.8))
  context.lineTo(...place(-0.7, -0.8))
  context.closePath()
  context.strokeStyle = halo
  context.lineWidth = 3
  context.stroke()
  context.fillStyle = ink
  context.fill()
}

function drawClip(context: WalkContext, { x, y }: PointPx, ink: string, halo: string): void {
  context.beginPath()
  context.roundRect(x - clipPx / 2, y - clipPx / 2, clipPx, clipPx, 1)
  context.strokeStyle = halo
  context.lineWidth = 3
  context.stroke()
  context.fillStyle = ink
  context.fill()
}
