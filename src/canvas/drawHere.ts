import type { HereMark } from '../state/mapMarks.ts'
import { toScreen, type View } from './mapTypes.ts'
import type { Palette } from './palette.ts'

const dotPx = 6

/** Where the device is: a dot, and around it the circle within which it is. */
export function drawHere(
  context: CanvasRenderingContext2D,
  { atM, accuracyM }: HereMark,
  view: View,
  palette: Palette,
): void {
  const { x, y } = toScreen(view, atM)
  const circle = (radiusPx: number) => {
    context.beginPath()
    context.arc(x, y, radiusPx, 0, 2 * Math.PI)
  }
  context.save()
  context.setLineDash([])
  circle(Math.max(dotPx, accuracyM * view.k))
  context.globalAlpha = 0.15
  context.fillStyle = palette.selection
  context.fill()
  context.globalAlpha = 1
  context.lineWidth = 1.5
  context.strokeStyle = palette.selection
  context.stroke()
  circle(dotPx)
  context.fill()
  context.lineWidth = 2.5
  context.strokeStyle = palette.halo
  context.stroke()
  context.restore()
}
