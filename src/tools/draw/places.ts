import type { PointM } from '../../model/schema/primitives.ts'

/** Metres to a tenth of a millimetre, as drawn places are kept: 0.1 + 0.2 is 0.3, and there is no −0. */
export function roundM(valueM: number): number {
  return Math.round(valueM * 1e4) / 1e4 + 0
}

export function roundPointM({ x, y }: PointM): PointM {
  return { x: roundM(x), y: roundM(y) }
}

/** So far from a place along a direction. */
export function alongM(from: PointM, direction: PointM, lengthM: number): PointM {
  return { x: from.x + direction.x * lengthM, y: from.y + direction.y * lengthM }
}

export function shiftedM(at: PointM, by: PointM): PointM {
  return { x: at.x + by.x, y: at.y + by.y }
}

/** What leads from one place to another. */
export function betweenM(from: PointM, to: PointM): PointM {
  return { x: to.x - from.x, y: to.y - from.y }
}

export function dot(a: PointM, b: PointM): number {
  return a.x * b.x + a.y * b.y
}

export function isSamePlace(a: PointM, b: PointM): boolean {
  return a.x === b.x && a.y === b.y
}
