import type { PointM } from '../model/schema/primitives.ts'

/**
 * What of the plan is seen, in CSS pixels: screen = (x + k · east, y − k · north). North is up; `k` is pixels
 * per metre; `dpr` device pixels per CSS pixel.
 */
export interface View {
  readonly x: number
  readonly y: number
  readonly k: number
  readonly widthPx: number
  readonly heightPx: number
  readonly dpr: number
}

export interface PointPx {
  readonly x: number
  readonly y: number
}

/** A rectangle in plan, with sides to east and north. */
export interface RectM {
  readonly minX: number
  readonly minY: number
  readonly maxX: number
  readonly maxY: number
}

export function toScreen(view: View, point: PointM): PointPx {
  return { x: view.x + view.k * point.x, y: view.y - view.k * point.y }
}

export function toWorld(view: View, point: PointPx): PointM {
  return { x: (point.x - view.x) / view.k, y: (view.y - point.y) / view.k }
}

/** The part of the plan that a view shows. */
export function visibleRectM(view: View): RectM {
  const topLeft = toWorld(view, { x: 0, y: 0 })
  const bottomRight = toWorld(view, { x: view.widthPx, y: view.heightPx })
  return { minX: topLeft.x, minY: bottomRight.y, maxX: bottomRight.x, maxY: topLeft.y }
}

export function isInRect({ minX, minY, maxX, maxY }: RectM, x: number, y: number): boolean {
  return x >= minX && x <= maxX && y >= minY && y <= maxY
}

/** A rectangle with so many metres more on every side. */
export function grown({ minX, minY, maxX, maxY }: RectM, byM: number): RectM {
  return { minX: minX - byM, minY: minY - byM, maxX: maxX + byM, maxY: maxY + byM }
}
