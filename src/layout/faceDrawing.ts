import type { TableType } from '../model/schema/tableType.ts'
import { writeLocalPart } from '../model/address.ts'
import { jointPlaces, type JointPlaces } from './jointPlaces.ts'
import { localPartAt } from './localParts.ts'
import type { TablePattern } from './pattern.ts'
import { tablePattern } from './tablePattern.ts'

interface RectM {
  readonly x: number
  readonly y: number
  readonly alongM: number
  readonly upM: number
}

/**
 * One table seen square to the plane of its modules, in metres: x along the table, y up the slope. The same parts
 * and joints as in plan, without the shortening by the tilt.
 */
export interface FaceDrawing extends JointPlaces {
  readonly pattern: TablePattern
  readonly alongM: number
  readonly upM: number
  /** Frames row by row from the lowest. */
  readonly frames: readonly RectM[]
  readonly memberY: readonly number[]
  readonly crossX: readonly number[]
  readonly posts: readonly { readonly x: number; readonly y: number }[]
  readonly stationX: readonly number[]
  /** All of it, with members that stand out beyond the modules. */
  readonly lowestY: number
  readonly highestY: number
}

/** Takes a type whose stations and rows are within its size. O(parts + joints). */
export function faceDrawing(type: TableType): FaceDrawing {
  // Without tilt the plan is what one sees square to the modules.
  const pattern = tablePattern({ ...type, tiltDeg: 0 })
  const { size, longStart, crossStart, postStart, across, members, partCount, xM, yM } = pattern
  const frames = Array.from({ length: longStart }, (_, frame) => ({
    x: xM[frame] - size.frameAlongM / 2,
    y: yM[frame] - size.frameUpM / 2,
    alongM: size.frameAlongM,
    upM: size.frameUpM,
  }))
  const memberY = Array.from({ length: members }, (_, m) => yM[longStart + m * (across + 1)])
  return {
    pattern,
    alongM: size.alongM,
    upM: size.upM,
    frames,
    memberY,
    crossX: [...xM.subarray(crossStart, postStart)],
    posts: Array.from({ length: partCount - postStart }, (_, k) => ({
      x: xM[postStart + k],
      y: yM[postStart + k],
    })),
    stationX: [...size.stationM],
    lowestY: Math.min(0, ...memberY),
    highestY: Math.max(size.upM, ...memberY),
    ...jointPlaces(pattern),
  }
}

/** Ends of a joint as addresses write them below a table: `F1.3~L2.4`, `P1.2~earth`, `X2~P1.2~2`. */
export function jointForm(pattern: TablePattern, joint: number): string {
  const { from, to, parallel } = pattern
  const name = (local: number) => (local < 0 ? 'earth' : writeLocalPart(localPartAt(pattern, local)))
  const ends = `${name(from[joint])}~${name(to[joint])}`
  return parallel[joint] > 1 ? `${ends}~${parallel[joint]}` : ends
}

/** The station nearest to a place along the table, from 1. */
export function stationNear({ stationX }: FaceDrawing, xM: number): number {
  let nearest = 0
  stationX.forEach((x, k) => {
    if (Math.abs(x - xM) < Math.abs(stationX[nearest] - xM)) nearest = k
  })
  return nearest + 1
}

/** How many joints of each sort a table has, by the numbers of jointPlaces.ts. */
export function countSorts({ jointSort }: JointPlaces): readonly number[] {
  const counts = [0, 0, 0, 0, 0, 0, 0]
  for (const sort of jointSort) counts[sort]++
  return counts
}
