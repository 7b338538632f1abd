import type { PointPx } from './mapTypes.ts'
import type { Box } from './overlayCurves.ts'

/** A label that wants to stand at one of some places (its centre there), the best first. */
export interface LabelWish<T> {
  readonly of: T
  readonly places: readonly PointPx[]
  readonly widthPx: number
  readonly heightPx: number
}

export interface PlacedLabel<T> {
  readonly of: T
  readonly box: Box
}

export interface LabelRoom {
  readonly within: Box
  readonly apartPx: number
  readonly most: number
}

/**
 * Greedy placing: in the order of the wishes, each label takes its first place that lies inside and touches
 * nothing placed before. A label without room is left out. O(wishes · places · placed).
 */
export function placeLabels<T>(
  wishes: readonly LabelWish<T>[],
  taken: readonly Box[],
  { within, apartPx, most }: LabelRoom,
): readonly PlacedLabel<T>[] {
  const occupied = [...taken]
  const placed: PlacedLabel<T>[] = []
  for (const { of, places, widthPx, heightPx } of wishes) {
    if (placed.length >= most) break
    const box = places
      .map((at) => boxAround(at, widthPx, heightPx))
      .find((box) => isInside(box, within) && !occupied.some((other) => doTouch(box, other, apartPx)))
    if (!box) continue
    occupied.push(box)
    placed.push({ of, box })
  }
  return placed
}

export function boxAround({ x, y }: PointPx, widthPx: number, heightPx: number): Box {
  return { left: x - widthPx / 2, top: y - heightPx / 2, right: x + widthPx / 2, bottom: y + heightPx / 2 }
}

export function isInside(box: Box, within: Box): boolean {
  return (
    box.left >= within.left &&
    box.top >= within.top &&
    box.right <= within.right &&
    box.bottom <= within.bottom
  )
}

export function doTouch(a: Box, b: Box, apartPx = 0): boolean {
  return (
    a.left < b.right + apartPx &&
    b.left < a.right + apartPx &&
    a.top < b.bottom + apartPx &&
    b.top < a.bottom + apartPx
  )
}
