import type { PointM } from '../../model/schema/primitives.ts'

/** Bearing from one place to another, clockwise from north: 0 ≤ bearing < 360, to a millionth; 0 between equal places. */
export function bearingDegOf(from: PointM, to: PointM): number {
  return wholeTurnDeg((Math.atan2(to.x - from.x, to.y - from.y) * 180) / Math.PI)
}

/** Any angle as a bearing: 0 ≤ bearing < 360, to a millionth of a degree. */
export function wholeTurnDeg(angleDeg: number): number {
  const rounded = Math.round((((angleDeg % 360) + 360) % 360) * 1e6) / 1e6
  return rounded >= 360 ? 0 : rounded
}

/** The smallest turn from one bearing to another: −180 < turn ≤ 180. */
export function turnBetweenDeg(fromDeg: number, toDeg: number): number {
  const turn = wholeTurnDeg(toDeg - fromDeg)
  return turn > 180 ? turn - 360 : turn
}

/** One metre in the direction of a bearing. */
export function directionOf(bearingDeg: number): PointM {
  const angle = (bearingDeg * Math.PI) / 180
  return { x: Math.sin(angle), y: Math.cos(angle) }
}

/** One metre to the left of a direction: the way that the tables of a row rise. */
export function leftOf({ x, y }: PointM): PointM {
  return { x: -y, y: x }
}
