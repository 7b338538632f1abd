import type { PointM } from './schema/primitives.ts'

/** A rectangle of the plan along its axes, in metres: west, south, east and north side. */
export interface BoxM {
  readonly minX: number
  readonly minY: number
  readonly maxX: number
  readonly maxY: number
}

/** The smallest box around points; null around none. O(points). */
export function boxAround(points: readonly PointM[]): BoxM | null {
  if (points.length === 0) return null
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const { x, y } of points) {
    minX = Math.min(minX, x)
    minY = Math.min(minY, y)
    maxX = Math.max(maxX, x)
    maxY = Math.max(maxY, y)
  }
  return { minX, minY, maxX, maxY }
}

/** The smallest box around boxes; null around none. */
export function boxAroundBoxes(boxes: readonly BoxM[]): BoxM | null {
  const corners = boxes.flatMap(({ minX, minY, maxX, maxY }) => [
    { x: minX, y: minY },
    { x: maxX, y: maxY },
  ])
  return boxAround(corners)
}

/** The box with these opposite corners, in whatever order they are given. */
export function boxBetween(a: PointM, b: PointM): BoxM {
  return {
    minX: Math.min(a.x, b.x),
    minY: Math.min(a.y, b.y),
    maxX: Math.max(a.x, b.x),
    maxY: Math.max(a.y, b.y),
  }
}

export function centreOfBox({ minX, minY, maxX, maxY }: BoxM): PointM {
  return { x: (minX + maxX) / 2, y: (minY + maxY) / 2 }
}

/** Whether the first box lies in the second; sides may coincide. */
export function isBoxWithin(box: BoxM, around: BoxM): boolean {
  return (
    box.minX >= around.minX && box.maxX <= around.maxX && box.minY >= around.minY && box.maxY <= around.maxY
  )
}

/** Whether two boxes have a point in common. */
export function doBoxesMeet(a: BoxM, b: BoxM): boolean {
  return a.minX <= b.maxX && a.maxX >= b.minX && a.minY <= b.maxY && a.maxY >= b.minY
}
