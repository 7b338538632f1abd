import { boxOfItems } from '../layout/itemBox.ts'
import { itemOutlineM } from '../layout/itemOutline.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import type { DrawnItem } from '../model/drawnItem.ts'
import type { PointM } from '../model/schema/primitives.ts'
import type { DrawHandle, DrawPreview } from '../tools/draw/drawTool.ts'
import { toScreen, type PointPx, type View } from './mapTypes.ts'
import type { Palette } from './palette.ts'

/** What the map shows of drawing: what is chosen, and what the tool in hand would do. */
export interface DrawingShown {
  readonly chosen: readonly DrawnItem[]
  readonly preview: DrawPreview | null
  /** What stands beside the pointer. */
  readonly told: string | null
  /** Chosen things can be turned and moved by hand. */
  readonly hasHandles: boolean
  /** Where the keyboard's cross stands, in plan metres. */
  readonly crossM: PointM | null
}

/** A handle beside what is chosen. */
export interface PlacedHandle {
  readonly handle: DrawHandle
  readonly at: PointPx
  /** The place that it hangs on. */
  readonly from: PointPx
}

type Context = CanvasRenderingContext2D

const turnAbovePx = 30
const handleRadiusPx = 8
const pointHalfPx = 4
/** Outlines drawn one by one; of more chosen things only their box. */
const mostOutlines = 300
const crossPx = 14

/** Where the handles of what is chosen stand in a view. */
export function handlesOf(
  index: SiteIndex,
  chosen: readonly DrawnItem[],
  view: View,
): readonly PlacedHandle[] {
  const box = boxOfItems(index, chosen)
  if (!box) return []
  const top = toScreen(view, { x: (box.minX + box.maxX) / 2, y: box.maxY })
  const handles: PlacedHandle[] = [{ handle: 'turn', at: { x: top.x, y: top.y - turnAbovePx }, from: top }]
  const [only] = chosen
  if (chosen.length === 1 && only.sort === 'row') {
    const corners = itemOutlineM(index, only)?.pointsM
    if (corners) {
      const end = { x: (corners[1].x + corners[2].x) / 2, y: (corners[1].y + corners[2].y) / 2 }
      const at = toScreen(view, end)
      handles.push({ handle: 'rowEnd', at, from: at })
    }
  }
  return handles
}

/** The handle that a pointer takes. */
export function handleNear(
  handles: readonly PlacedHandle[],
  at: PointPx,
  reachPx: number,
): DrawHandle | null {
  const within = handleRadiusPx + reachPx
  return handles.find((each) => Math.hypot(each.at.x - at.x, each.at.y - at.y) <= within)?.handle ?? null
}

/** Draws what is chosen, its handles and the preview into a context whose unit is the CSS pixel. */
export function drawDrawing(
  context: Context,
  index: SiteIndex,
  shown: DrawingShown,
  view: View,
  palette: Palette,
): void {
  context.save()
  context.lineJoin = 'round'
  context.lineCap = 'round'
  drawChosen(context, index, shown.chosen, view, palette)
  if (shown.hasHandles) drawHandles(context, handlesOf(index, shown.chosen, view), palette)
  if (shown.preview) drawPreview(context, shown.preview, view, palette)
  if (shown.crossM) drawCross(context, toScreen(view, shown.crossM), palette)
  context.restore()
}

function drawChosen(
  context: Context,
  index: SiteIndex,
  chosen: readonly DrawnItem[],
  view: View,
  palette: Palette,
): void {
  context.setLineDash([])
  context.beginPath()
  if (chosen.length > mostOutlines) {
    const box = boxOfItems(index, chosen)
    if (box) trace(context, boxCorners([box.minX, box.minY], [box.maxX, box.maxY]), view, true)
  } else {
    for (const item of chosen) {
      const outline = itemOutlineM(index, item)
      if (outline) trace(context, outline.pointsM, view, outline.isClosed)
    }
  }
  stroke(context, palette.selection, palette.halo, 3)
  const [only] = chosen
  if (chosen.length !== 1 || only.sort === 'row') return
  const outline = itemOutlineM(index, only)
  if (!outline || (outline.isArea && only.sort !== 'obstacle')) return
  for (const pointM of outline.pointsM) drawSquare(context, toScreen(view, pointM), palette)
}

function drawHandles(context: Context, handles: readonly PlacedHandle[], palette: Palette): void {
  for (const { handle, at, from } of handles) {
    context.beginPath()
    context.moveTo(from.x, from.y)
    context.lineTo(at.x, at.y)
    stroke(context, palette.selection, palette.halo, 1.5)
    context.beginPath()
    context.arc(at.x, at.y, handleRadiusPx, 0, 2 * Math.PI)
    context.fillStyle = palette.halo
    context.fill()
    stroke(context, palette.selection, palette.halo, 2)
    context.beginPath()
    if (handle === 'turn') {
      context.arc(at.x, at.y, 4, 0.6, 5.4)
    } else {
      context.moveTo(at.x - 4, at.y)
      context.lineTo(at.x + 4, at.y)
      context.moveTo(at.x, at.y - 4)
      context.lineTo(at.x, at.y + 4)
    }
    context.strokeStyle = palette.selection
    context.lineWidth = 2
    context.stroke()
  }
}

function drawPreview(context: Context, preview: DrawPreview, view: View, palette: Palette): void {
  context.setLineDash([2, 5])
  context.beginPath()
  for (const [a, b] of preview.guides) trace(context, [a, b], view, false)
  context.lineWidth = 1.5
  context.strokeStyle = palette.link
  context.stroke()
  context.setLineDash([])

  context.beginPath()
  for (const outline of preview.outlines) trace(context, outline, view, true)
  context.globalAlpha = 0.18
  context.fillStyle = palette.link
  context.fill()
  context.globalAlpha = 1
  for (const line of preview.lines) trace(context, line, view, false)
  stroke(context, palette.link, palette.halo, 2)

  if (preview.box) {
    const [a, b] = preview.box
    context.setLineDash([6, 4])
    context.beginPath()
    trace(context, boxCorners([a.x, a.y], [b.x, b.y]), view, true)
    context.globalAlpha = 0.12
    context.fillStyle = palette.selection
    context.fill()
    context.globalAlpha = 1
    stroke(context, palette.selection, palette.halo, 1.5)
    context.setLineDash([])
  }
  for (const point of preview.points) drawSquare(context, toScreen(view, point), palette)
  for (const point of preview.landed) drawLanded(context, toScreen(view, point), palette)
  if (preview.snapped) drawSnap(context, toScreen(view, preview.snapped), palette)
}

function boxCorners(
  [x0, y0]: readonly [number, number],
  [x1, y1]: readonly [number, number],
): readonly PointM[] {
  return [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ]
}

function trace(context: Context, pointsM: readonly PointM[], view: View, isClosed: boolean): void {
  pointsM.forEach((pointM, k) => {
    const { x, y } = toScreen(view, pointM)
    if (k === 0) context.moveTo(x, y)
    else context.lineTo(x, y)
  })
  if (isClosed) context.closePath()
}

function stroke(context: Context, ink: string, rim: string, widthPx: number): void {
  context.strokeStyle = rim
  context.lineWidth = widthPx + 2.5
  context.stroke()
  context.strokeStyle = ink
  context.lineWidth = widthPx
  context.stroke()
}

function drawSquare(context: Context, { x, y }: PointPx, palette: Palette): void {
  context.beginPath()
  context.rect(x - pointHalfPx, y - pointHalfPx, 2 * pointHalfPx, 2 * pointHalfPx)
  context.fillStyle = palette.halo
  context.fill()
  context.lineWidth = 2
  context.strokeStyle = palette.selection
  context.stroke()
}

/** A point that holds on metal is full, one that only bends is hollow. */
function drawLanded(context: Context, { x, y }: PointPx, palette: Palette): void {
  context.beginPath()
  context.arc(x, y, pointHalfPx + 2, 0, 2 * Math.PI)
  context.fillStyle = palette.selection
  context.fill()
  context.lineWidth = 2
  context.strokeStyle = palette.halo
  context.stroke()
}

function drawSnap(context: Context, { x, y }: PointPx, palette: Palette): void {
  context.beginPath()
  context.arc(x, y, 6, 0, 2 * Math.PI)
  stroke(context, palette.link, palette.halo, 2)
}

function drawCross(context: Context, { x, y }: PointPx, palette: Palette): void {
  context.beginPath()
  context.moveTo(x - crossPx, y)
  context.lineTo(x + crossPx, y)
  context.moveTo(x, y - crossPx)
  context.lineTo(x, y + crossPx)
  stroke(context, palette.selection, palette.halo, 2)
}
