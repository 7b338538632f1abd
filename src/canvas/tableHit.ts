import { bodySort, soilSort } from '../layout/jointPlaces.ts'
import { isAtLeast, type Level } from './lod.ts'
import type { TypeGeometry } from './typeGeometry.ts'

/** Half widths, in metres, at which members and posts are drawn to scale. */
export const memberHalfM = 0.035
export const postHalfM = 0.075

/**
 * The part of a table at a place in it, as number in the table, −1 where nothing is within `toleranceM`. What
 * is drawn above comes first: posts, then members, then modules; a tolerance never lets the thin parts eat
 * more than a strip of the module below them. O(posts + members).
 */
export function localPartNear(
  type: TypeGeometry,
  x: number,
  y: number,
  toleranceM: number,
  level: Level,
): number {
  const { pattern } = type
  if (isAtLeast(level, 'members')) {
    const thinReachM = Math.min(toleranceM, 0.12 * Math.min(pattern.size.frameAlongM, pattern.size.frameUpM))
    const post = postNear(type, x, y, thinReachM)
    if (post >= 0) return post
    const member = memberNear(type, x, y, thinReachM)
    if (member >= 0) return member
  }
  return level === 'tables' ? -1 : frameNear(type, x, y, toleranceM)
}

/** Of two equally near, but for rounding, the one that was looked at first: what is drawn above. */
function isNearer(distanceM: number, nearestM: number, found: number): boolean {
  return found < 0 ? distanceM <= nearestM : distanceM < nearestM - 1e-6
}

function postNear({ pattern }: TypeGeometry, x: number, y: number, reachM: number): number {
  let nearestM = reachM
  let found = -1
  for (let post = pattern.postStart; post < pattern.partCount; post++) {
    const distanceM = boxDistance(x - pattern.xM[post], y - pattern.yM[post], postHalfM, postHalfM)
    if (!isNearer(distanceM, nearestM, found)) continue
    nearestM = distanceM
    found = post
  }
  return found
}

/** Of a long and a cross member equally near, the long one: it is drawn above. */
function memberNear(type: TypeGeometry, x: number, y: number, reachM: number): number {
  const { pattern, memberY, crossX, crossFromY, crossToY } = type
  const { size, across, longStart, crossStart } = pattern
  let nearestM = reachM
  let found = -1
  for (let m = 0; m < memberY.length; m++) {
    const distanceM = boxDistance(x - size.alongM / 2, y - memberY[m], size.alongM / 2, memberHalfM)
    if (!isNearer(distanceM, nearestM, found)) continue
    nearestM = distanceM
    found = longStart + m * (across + 1) + stationNear(type, x)
  }
  const halfHeight = (crossToY - crossFromY) / 2
  for (let c = 0; c < crossX.length; c++) {
    const distanceM = boxDistance(x - crossX[c], y - crossFromY - halfHeight, memberHalfM, halfHeight)
    if (!isNearer(distanceM, nearestM, found)) continue
    nearestM = distanceM
    found = crossStart + c
  }
  return found
}

/** Place (0 …) of the station nearest to a place along the table. */
function stationNear({ pattern }: TypeGeometry, x: number): number {
  const { size, across } = pattern
  let s = Math.min(Math.max(Math.round(x / size.pitchAlongM), 0), across)
  while (s > 0 && x - size.stationM[s - 1] <= size.stationM[s] - x) s--
  while (s < across && size.stationM[s + 1] - x < x - size.stationM[s]) s++
  return s
}

function frameNear({ pattern }: TypeGeometry, x: number, y: number, toleranceM: number): number {
  const { size, across, high } = pattern
  const a = slotNear(x, size.pitchAlongM, size.frameAlongM, across)
  const h = slotNear(y, size.pitchUpM, size.frameUpM, high)
  const distanceM = boxDistance(
    x - a * size.pitchAlongM - size.frameAlongM / 2,
    y - h * size.pitchUpM - size.frameUpM / 2,
    size.frameAlongM / 2,
    size.frameUpM / 2,
  )
  return distanceM <= toleranceM ? h * across + a : -1
}

/** Of equal slots of a width, one each pitch, the one nearest to a place. */
function slotNear(at: number, pitchM: number, widthM: number, count: number): number {
  return Math.min(Math.max(Math.floor((at + (pitchM - widthM) / 2) / pitchM), 0), count - 1)
}

/** Distance of a point, seen from the middle of a rectangle, to the rectangle; 0 inside. */
export function boxDistance(dx: number, dy: number, halfX: number, halfY: number): number {
  const outX = Math.max(Math.abs(dx) - halfX, 0)
  const outY = Math.max(Math.abs(dy) - halfY, 0)
  return outX === 0 ? outY : outY === 0 ? outX : Math.hypot(outX, outY)
}

export interface NearJoint {
  readonly joint: number
  readonly distanceM: number
}

/**
 * The joint of a table whose mark is nearest, within `toleranceM`. The own metal of long members and soil are
 * no joints that a person points at. O(joints of a table).
 */
export function localJointNear(
  { pattern, jointX, jointY, jointSort }: TypeGeometry,
  x: number,
  y: number,
  toleranceM: number,
  isAbsent: (local: number) => boolean,
): NearJoint | null {
  let found: NearJoint | null = null
  let nearestM = toleranceM
  for (let j = 0; j < pattern.jointCount; j++) {
    if (jointSort[j] === bodySort || jointSort[j] === soilSort) continue
    const distanceM = Math.hypot(x - jointX[j], y - jointY[j])
    if (distanceM > nearestM || (found && distanceM === nearestM) || isAbsent(j)) continue
    nearestM = distanceM
    found = { joint: j, distanceM }
  }
  return found
}
