import type { TablePattern } from './pattern.ts'

/** Sorts of joints inside a table, by what they join. */
export const clampSort = 0
export const linkSort = 1
export const bodySort = 2
export const spliceSort = 3
export const bracketSort = 4
export const postSort = 5
export const soilSort = 6

/** Clamps of two neighbours share a gap: each is marked on its own module's side of it. */
const clampInsetM = 0.14
/** What a post is bonded by is marked beside it: above its parallel bonds in line, below its earth path. */
const besidePostM = 0.17

/** Where each joint of a table is marked in a drawing of it, and its sort. */
export interface JointPlaces {
  /** Metres along the table, and up the slope as seen in plan. */
  readonly jointX: Float32Array
  readonly jointY: Float32Array
  readonly jointSort: Uint8Array
}

/** O(joints) of one table. */
export function jointPlaces(pattern: TablePattern): JointPlaces {
  const { jointCount, size, across, longStart, from, to, xM, yM, parallel } = pattern
  const jointX = new Float32Array(jointCount)
  const jointY = new Float32Array(jointCount)
  const jointSort = new Uint8Array(jointCount)
  const inset = Math.min(clampInsetM, size.frameAlongM / 5)
  for (let j = 0; j < jointCount; j++) {
    const a = from[j]
    const b = to[j]
    const sort = sortOf(pattern, j)
    jointSort[j] = sort
    if (sort === clampSort) {
      const column = a % across
      const station = (b - longStart) % (across + 1)
      const side = station === column ? inset : size.frameAlongM - inset
      jointX[j] = column * size.pitchAlongM + side
      jointY[j] = yM[b]
    } else if (sort === bracketSort) {
      jointX[j] = xM[b]
      jointY[j] = yM[a]
    } else if (sort === postSort) {
      jointX[j] = xM[b] + (parallel[j] - 1) * besidePostM
      jointY[j] = yM[b] + besidePostM
    } else if (sort === soilSort) {
      jointX[j] = xM[a]
      jointY[j] = yM[a] - besidePostM
    } else {
      jointX[j] = (xM[a] + xM[b]) / 2
      jointY[j] = (yM[a] + yM[b]) / 2
    }
  }
  return { jointX, jointY, jointSort }
}

function sortOf({ from, to, longStart, crossStart, postStart, kind, kindNames }: TablePattern, j: number) {
  if (to[j] < 0) return soilSort
  if (to[j] >= postStart) return postSort
  if (to[j] >= crossStart) return bracketSort
  if (from[j] >= longStart) return kindNames[kind[j]] === 'memberBody' ? bodySort : spliceSort
  return to[j] >= longStart ? clampSort : linkSort
}
