import type { PointPx, View } from './mapTypes.ts'
import type { Box } from './overlayCurves.ts'
import { labelFamily } from './overlayDraw.ts'
import type { Palette } from './palette.ts'

const font = `600 12px ${labelFamily}`
const heightPx = 22
const edgePx = 4
const besidePx = 14
const belowPx = 18
/** A finger hides this much of the map above the place it touches. */
const fingerPx = 52

/** Where a tag of this width stands: beside the pointer, above a finger, inside the view. */
export function tagBox(widthPx: number, at: PointPx, isTouch: boolean, view: View): Box {
  const mostLeft = view.widthPx - widthPx - edgePx
  const left = Math.max(Math.min(isTouch ? at.x - widthPx / 2 : at.x + besidePx, mostLeft), edgePx)
  const above = at.y - fingerPx - heightPx
  const below = at.y + belowPx
  const isBelow = isTouch ? above < edgePx : below + heightPx <= view.heightPx - edgePx
  const top = isTouch ? (isBelow ? at.y + fingerPx : above) : isBelow ? below : at.y - belowPx - heightPx
  return { left, top, right: left + widthPx, bottom: top + heightPx }
}

/** A name in a small tag at the pointer or above the finger. */
export function drawTag(
  context: CanvasRenderingContext2D,
  { text, at, isTouch }: { readonly text: string; readonly at: PointPx; readonly isTouch: boolean },
  view: View,
  palette: Palette,
): void {
  context.font = font
  const widthPx = Math.min(Math.ceil(context.measureText(text).width) + 16, view.widthPx - 2 * edgePx)
  const { left, top } = tagBox(widthPx, at, isTouch, view)
  context.setLineDash([])
  context.beginPath()
  context.roundRect(left, top, widthPx, heightPx, 5)
  context.fillStyle = palette.labelPlate
  context.fill()
  context.lineWidth = 2
  context.strokeStyle = palette.link
  context.stroke()
  context.textAlign = 'center'
  context.textBaseline = 'middle'
  context.fillStyle = palette.label
  context.fillText(text, left + widthPx / 2, top + heightPx / 2 + 0.5, widthPx - 10)
}
