import type { PointPx } from './mapTypes.ts'
import type { PlacedLabel } from './overlayLabels.ts'
import type { NameText } from './overlayNames.ts'
import { labelFamily } from './overlayDraw.ts'
import type { Palette } from './palette.ts'

type Context = CanvasRenderingContext2D

const rowFont = `700 12px ${labelFamily}`
const tableFont = `600 11px ${labelFamily}`

export function nameWidthPx(context: Context, text: string): number {
  context.font = rowFont
  return Math.ceil(context.measureText(text).width) + 8
}

/** On bare ground the plate is not seen; over the array it keeps the letters readable. */
const faintPlate = 0.78

/** Names of rows and tables, on a dark plate where something is chosen or suspected. */
export function drawNames(context: Context, names: readonly PlacedLabel<NameText>[], palette: Palette): void {
  context.setLineDash([])
  context.textAlign = 'center'
  context.textBaseline = 'middle'
  for (const { of, box } of names) {
    const x = (box.left + box.right) / 2
    const y = (box.top + box.bottom) / 2
    context.font = of.weight === 'table' ? tableFont : rowFont
    const isFull = of.weight === 'plate'
    context.beginPath()
    context.roundRect(box.left, box.top, box.right - box.left, box.bottom - box.top, 3)
    context.globalAlpha = isFull ? 1 : faintPlate
    context.fillStyle = isFull ? palette.label : palette.ground
    context.fill()
    context.globalAlpha = 1
    context.fillStyle = isFull ? palette.labelPlate : palette.label
    if (of.isTurned) {
      context.save()
      context.translate(x, y)
      context.rotate(-Math.PI / 2)
      context.fillText(of.text, 0, 0.5)
      context.restore()
    } else context.fillText(of.text, x, y + 0.5)
  }
}

export const northSizePx = { widthPx: 20, heightPx: 30 } as const

/** An arrow to north with its letter, its foot at a place; north is up unless the drawing is turned (degrees, clockwise). */
export function drawNorth(context: Context, foot: PointPx, bearingDeg: number, palette: Palette): void {
  const turn = (-bearingDeg * Math.PI) / 180
  const middle = { x: foot.x, y: foot.y - northSizePx.heightPx / 2 }
  const at = (x: number, y: number): [number, number] => [
    middle.x + x * Math.cos(turn) - y * Math.sin(turn),
    middle.y + x * Math.sin(turn) + y * Math.cos(turn),
  ]
  context.setLineDash([])
  context.lineJoin = 'round'
  context.beginPath()
  context.moveTo(...at(0, -15))
  context.lineTo(...at(5.5, 1))
  context.lineTo(...at(0, -2.5))
  context.lineTo(...at(-5.5, 1))
  context.closePath()
  context.lineWidth = 3
  context.strokeStyle = palette.halo
  context.stroke()
  context.fillStyle = palette.label
  context.fill()
  context.font = tableFont
  context.textAlign = 'center'
  context.textBaseline = 'middle'
  context.strokeText('N', ...at(0, 9))
  context.fillText('N', ...at(0, 9))
}
