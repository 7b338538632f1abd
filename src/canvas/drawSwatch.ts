import type { Swatch } from './legendTypes.ts'
import { dashPx, drawSightMark } from './sightMarks.ts'
import { drawWalk } from './drawWalk.ts'
import { drawAltered, drawBolt, drawPerson } from './overlayFault.ts'
import { drawStep } from './overlayGround.ts'
import { drawNextSample } from './overlayNext.ts'

/** A sample of what the legend speaks of, in a box of this size in CSS pixels, on a cleared context. */
export function drawSwatch(
  context: CanvasRenderingContext2D,
  swatch: Swatch,
  { widthPx, heightPx }: { readonly widthPx: number; readonly heightPx: number },
): void {
  const x = widthPx / 2
  const y = heightPx / 2
  switch (swatch.shape) {
    case 'area':
      context.fillStyle = swatch.fill
      context.strokeStyle = swatch.edge
      context.lineWidth = 1
      context.fillRect(5.5, 4.5, widthPx - 11, heightPx - 9)
      context.strokeRect(5.5, 4.5, widthPx - 11, heightPx - 9)
      return
    case 'line':
      context.beginPath()
      for (const dy of swatch.isDouble ? [-2, 2] : [0]) {
        context.moveTo(5, y + dy)
        context.lineTo(widthPx - 5, y + dy)
      }
      if (swatch.isDashed) context.setLineDash([5, 4])
      if (swatch.rim !== null) {
        context.strokeStyle = swatch.rim
        context.lineWidth = swatch.widthPx + 2
        context.stroke()
      }
      context.strokeStyle = swatch.colour
      context.lineWidth = swatch.widthPx
      context.stroke()
      return
    case 'setUp':
      drawWalk(context, { ...nothingWalked, plates: [setUpPlate(x, y)] }, swatch.inks)
      return
    case 'sight':
      drawSightMark(context, swatch.form, { x, y }, swatch.sizePx / 2, swatch.inks)
      return
    case 'tableShare':
      drawTableShare(context, swatch, widthPx, heightPx)
      return
    case 'next':
      drawNextSample(context, { widthPx, heightPx }, { line: swatch.colour, halo: swatch.rim })
      return
    case 'faultPlace':
    case 'secondFault':
      drawBolt(context, { x: x - 4, y: y + 27 }, swatch.inks, swatch.shape === 'secondFault')
      return
    case 'touching':
      drawPerson(context, { x: x - 16, y: y - 7 }, { x: x + 16, y: y - 7 }, swatch.inks)
      return
    case 'changedJoint':
      drawAltered(context, { x, y }, swatch.inks)
      return
    case 'ground':
      context.fillStyle = swatch.before
      context.fillRect(3, 3, widthPx / 2 - 3, heightPx - 6)
      context.fillStyle = swatch.fill
      context.fillRect(widthPx / 2, 3, widthPx / 2 - 3, heightPx - 6)
      context.fillStyle = swatch.line
      context.fillRect(widthPx / 2 - swatch.linePx / 2, 3, swatch.linePx, heightPx - 6)
      return
    case 'groundStep':
      drawStep(context, { x: x - 14, y }, { x: x + 14, y }, swatch.inks, false)
      return
    case 'groundStand':
      drawStep(context, { x: x - 8, y: y + 10 }, { x: x + 14, y: y + 10 }, swatch.inks, true)
      return
    case 'cross':
      drawCross(context, x, y, swatch.sizePx / 2 + 1, 4.5, swatch.rim)
      drawCross(context, x, y, swatch.sizePx / 2, 2.25, swatch.colour)
      return
    case 'dot':
    case 'square':
      drawMark(context, swatch.shape, x, y, swatch.sizePx / 2 + 1.5, swatch.rim)
      drawMark(context, swatch.shape, x, y, swatch.sizePx / 2, swatch.colour)
      return
    default:
      drawItem(context, swatch, x, y)
  }
}

const nothingWalked = { ways: [], heads: [], rounds: [], clips: [] }

function setUpPlate(x: number, y: number) {
  return { of: '1', box: { left: x - 10, top: y - 10, right: x + 10, bottom: y + 10 } }
}

function drawTableShare(
  context: CanvasRenderingContext2D,
  { share, fill, empty, edge }: Extract<Swatch, { shape: 'tableShare' }>,
  widthPx: number,
  heightPx: number,
): void {
  const [left, top, length, height] = [4, heightPx / 2 - 5, widthPx - 8, 10]
  context.fillStyle = share === 1 ? fill : edge
  context.fillRect(left, top, length, height)
  if (share === 1) return
  context.fillStyle = empty
  context.fillRect(left + 1, top + 1, length - 2, height - 2)
  context.fillStyle = fill
  for (let at = 0; share > 0 && at + dashPx <= length; at += dashPx) {
    context.fillRect(left + at, top + 1, share * dashPx, height - 2)
  }
}

function drawMark(
  context: CanvasRenderingContext2D,
  shape: 'dot' | 'square',
  x: number,
  y: number,
  reach: number,
  colour: string,
): void {
  context.fillStyle = colour
  context.beginPath()
  if (shape === 'dot') context.arc(x, y, reach, 0, 2 * Math.PI)
  else context.rect(x - reach, y - reach, 2 * reach, 2 * reach)
  context.fill()
}

function drawCross(
  context: CanvasRenderingContext2D,
  x: number,
  y: number,
  reach: number,
  widthPx: number,
  colour: string,
): void {
  context.beginPath()
  for (const side of [-1, 1]) {
    context.moveTo(x - reach, y - side * reach)
    context.lineTo(x + reach, y + side * reach)
  }
  context.lineWidth = widthPx
  context.strokeStyle = colour
  context.stroke()
}

/** Equipment as the map has it: a box, a bar with studs, the sign for earth, a plate. */
function drawItem(
  context: CanvasRenderingContext2D,
  { shape, colour, fill }: Extract<Swatch, { shape: 'enclosure' | 'earthBar' | 'rod' | 'plate' }>,
  x: number,
  y: number,
): void {
  context.strokeStyle = colour
  context.fillStyle = fill
  context.lineWidth = 1.5
  if (shape === 'rod') {
    drawMark(context, 'dot', x, y - 7, 2.5, colour)
    context.fillStyle = colour
    context.fillRect(x - 0.75, y - 6, 1.5, 6)
    for (const [k, half] of [7, 4.5, 2].entries()) context.fillRect(x - half, y + 3 * k, 2 * half, 1.5)
    return
  }
  const half =
    shape === 'enclosure' ? { w: 7, h: 7 } : shape === 'earthBar' ? { w: 10, h: 3.5 } : { w: 9, h: 5 }
  context.fillRect(x - half.w, y - half.h, 2 * half.w, 2 * half.h)
  context.strokeRect(x - half.w, y - half.h, 2 * half.w, 2 * half.h)
  if (shape === 'earthBar') for (const dx of [-5, 0, 5]) drawMark(context, 'dot', x + dx, y, 1.5, colour)
}
