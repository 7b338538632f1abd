import { ok } from '../../base/result.ts'
import type { DrawnItem } from '../drawnItem.ts'
import { shiftBy, turnAbout } from '../motion.ts'
import type { PointM } from '../schema/primitives.ts'
import { asEdit } from './edit.ts'
import { firstMissing, motionsOf, placeItems } from './placeItems.ts'

export interface MoveItems {
  readonly items: readonly DrawnItem[]
  readonly byM: PointM
}

/**
 * Moves things of any sort together. Points of conductors that land on them go with them, and points that land on what
 * stays do not leave it, so that the drawing stays together. New places are kept to 0.1 mm.
 */
export const { can: canMoveItems, edit: moveItems } = asEdit<MoveItems>((site, { items, byM }) => {
  const missing = firstMissing(site.drawing, items)
  if (missing) return missing
  if (byM.x === 0 && byM.y === 0) return ok(site)
  const motion = shiftBy(byM)
  return placeItems(
    site,
    motionsOf(items, () => motion),
  )
})

export interface TurnItems {
  readonly items: readonly DrawnItem[]
  /** Clockwise, as bearings count. */
  readonly byDeg: number
  readonly aboutM: PointM
}

/**
 * Turns things of any sort together about one point: rows and enclosures also turn in themselves. What lands on
 * them goes with them as in `moveItems`.
 */
export const { can: canTurnItems, edit: turnItems } = asEdit<TurnItems>((site, { items, byDeg, aboutM }) => {
  const missing = firstMissing(site.drawing, items)
  if (missing) return missing
  if (byDeg % 360 === 0) return ok(site)
  const motion = turnAbout(aboutM, byDeg)
  return placeItems(
    site,
    motionsOf(items, () => motion),
  )
})
