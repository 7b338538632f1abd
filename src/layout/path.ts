import type { PointM } from '../model/schema/primitives.ts'

/** Length of a drawn path in metres, with the way back to its first point where it is closed. */
export function pathLengthM(path: readonly PointM[], isClosed: boolean): number {
  let lengthM = 0
  for (let i = 1; i < path.length; i++) lengthM += distanceM(path[i - 1], path[i])
  return isClosed ? lengthM + distanceM(path[path.length - 1], path[0]) : lengthM
}

/** The point half way along a drawn path. */
export function middleOfPath(path: readonly PointM[], isClosed: boolean): PointM {
  let leftM = pathLengthM(path, isClosed) / 2
  const legs = isClosed ? path.length : path.length - 1
  for (let i = 0; i < legs; i++) {
    const a = path[i]
    const b = path[(i + 1) % path.length]
    const legM = distanceM(a, b)
    if (legM > 0 && leftM <= legM) {
      const share = leftM / legM
      return { x: a.x + share * (b.x - a.x), y: a.y + share * (b.y - a.y) }
    }
    leftM -= legM
  }
  return path[0]
}

export function distanceM(a: PointM, b: PointM): number {
  return Math.hypot(b.x - a.x, b.y - a.y)
}
