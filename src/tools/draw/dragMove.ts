import { distanceM } from '../../layout/path.ts'
import type { DrawnItem } from '../../model/drawnItem.ts'
import { findDrawn } from '../../model/drawnItem.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import { wholeTurnDeg } from './bearing.ts'
import type { DrawContext, DrawPoint } from './drawTool.ts'
import { betweenM, roundPointM, shiftedM } from './places.ts'
import type { Snapped } from './snap.ts'
import { snapHere } from './snap.ts'

/**
 * How far chosen things are moved by a drag: the point of the grabbed thing that lies nearest to where it was taken
 * snaps like a point that is drawn, to what is not moved with it. Held straight, it keeps to eighths of a turn
 * and to the thing's own direction.
 */
export function moveByDrag(
  from: DrawPoint,
  at: DrawPoint,
  context: DrawContext,
): { readonly byM: PointM; readonly snapped: Snapped } {
  const home = grabbedPoint(from, context)
  const target = { ...at, atM: shiftedM(home, betweenM(from.atM, at.atM)) }
  const alongDeg = from.item && bearingOfItem(context.drawing, from.item)
  const snapped = snapHere(context, target, {
    fromM: home,
    isStraight: at.isAdding,
    alongDeg,
    catchDeg: [0, 90, 180, 270].map((turn) => wholeTurnDeg((alongDeg ?? 0) + turn)),
    anchorsNear: (atM, withinM) => context.anchorsNear(atM, withinM, context.chosen),
  })
  return { byM: roundPointM(betweenM(home, snapped.atM)), snapped }
}

/** The corner or point of the thing there that is nearest; the place itself where there is none. */
export function grabbedPoint({ atM, item }: DrawPoint, { outlineOf }: DrawContext): PointM {
  const points = (item && outlineOf(item)?.pointsM) ?? []
  if (points.length === 0) return atM
  return points.reduce((best, point) => (distanceM(point, atM) < distanceM(best, atM) ? point : best))
}

/** The direction that a thing has of its own; null for what has none. */
export function bearingOfItem(drawing: Drawing, { sort, id }: DrawnItem): number | null {
  if (sort !== 'row' && sort !== 'enclosure') return null
  return findDrawn(drawing, sort, id)?.bearingDeg ?? null
}
