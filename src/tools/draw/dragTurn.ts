import type { PointM } from '../../model/schema/primitives.ts'
import { bearingDegOf, turnBetweenDeg } from './bearing.ts'
import type { DrawPoint } from './drawTool.ts'

const stepDeg = 5

/** How far a drag around a centre turns, clockwise: in steps of 5°, free to a hundredth of a degree. */
export function turnByDrag(from: DrawPoint, at: DrawPoint, centreM: PointM): number {
  const byDeg = turnBetweenDeg(bearingDegOf(centreM, from.atM), bearingDegOf(centreM, at.atM))
  const turned = at.isFree ? Math.round(byDeg * 100) / 100 : Math.round(byDeg / stepDeg) * stepDeg
  return turned + 0
}
