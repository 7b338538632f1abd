import { jointPlaces, type JointPlaces } from '../layout/jointPlaces.ts'
import type { TablePattern } from '../layout/pattern.ts'
import type { RectM } from './mapTypes.ts'

/**
 * The drawing of one table type, in metres along the table (x) and up the slope as seen in plan (y): all
 * tables of the type are this, moved and turned.
 */
export interface TypeGeometry extends JointPlaces {
  readonly pattern: TablePattern
  /** All of a table, with members and posts that stand out. */
  readonly box: RectM
  readonly shortSideM: number
  readonly memberY: Float64Array
  readonly crossX: Float64Array
  readonly crossFromY: number
  readonly crossToY: number
}

/** O(parts + joints) of one table. */
export function typeGeometry(pattern: TablePattern): TypeGeometry {
  const { size, members, longStart, crossStart, postStart, across, xM, yM, partCount } = pattern
  const memberY = Float64Array.from({ length: members }, (_, m) => yM[longStart + m * (across + 1)])
  const lowest = Math.min(...memberY)
  const highest = Math.max(...memberY)
  let minX = 0
  let maxX = size.alongM
  let minY = Math.min(0, lowest)
  let maxY = Math.max(size.upM, highest)
  for (let post = postStart; post < partCount; post++) {
    minX = Math.min(minX, xM[post])
    maxX = Math.max(maxX, xM[post])
    minY = Math.min(minY, yM[post])
    maxY = Math.max(maxY, yM[post])
  }
  return {
    pattern,
    box: { minX, minY, maxX, maxY },
    shortSideM: Math.min(size.frameAlongM, size.frameUpM),
    memberY,
    crossX: xM.slice(crossStart, postStart),
    crossFromY: lowest,
    crossToY: highest,
    ...jointPlaces(pattern),
  }
}
