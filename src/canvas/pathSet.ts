import type { PointM } from '../model/schema/primitives.ts'

/**
 * Drawn ways one after the other: way i has the points start[i] … start[i + 1] − 1 (a closed one comes back
 * to its first point) and lies inside boxes[4 i …] = west, south, east, north.
 */
export interface PathSet {
  readonly count: number
  readonly start: Int32Array
  readonly x: Float64Array
  readonly y: Float64Array
  readonly boxes: Float64Array
}

export interface DrawnPath {
  readonly points: readonly PointM[]
  readonly closed: boolean
}

/** O(points). */
export function pathSet(paths: readonly DrawnPath[]): PathSet {
  const start = new Int32Array(paths.length + 1)
  paths.forEach(({ points, closed }, i) => {
    start[i + 1] = start[i] + points.length + (closed ? 1 : 0)
  })
  const x = new Float64Array(start[paths.length])
  const y = new Float64Array(start[paths.length])
  const boxes = new Float64Array(4 * paths.length)
  paths.forEach(({ points }, i) => {
    const n = start[i + 1] - start[i]
    let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity]
    for (let k = 0; k < n; k++) {
      const at = points[k % points.length]
      x[start[i] + k] = at.x
      y[start[i] + k] = at.y
      west = Math.min(west, at.x)
      south = Math.min(south, at.y)
      east = Math.max(east, at.x)
      north = Math.max(north, at.y)
    }
    boxes.set([west, south, east, north], 4 * i)
  })
  return { count: paths.length, start, x, y, boxes }
}

/** Distance in metres from a point to points first … last of the paths, joined in order. */
export function distanceToPathM(
  { x, y }: PathSet,
  first: number,
  last: number,
  atX: number,
  atY: number,
): number {
  let nearest = Math.hypot(atX - x[first], atY - y[first])
  for (let i = first; i < last; i++) {
    const dx = x[i + 1] - x[i]
    const dy = y[i + 1] - y[i]
    const length2 = dx * dx + dy * dy
    if (length2 === 0) continue
    const share = Math.min(Math.max(((atX - x[i]) * dx + (atY - y[i]) * dy) / length2, 0), 1)
    nearest = Math.min(nearest, Math.hypot(atX - x[i] - share * dx, atY - y[i] - share * dy))
  }
  return nearest
}
