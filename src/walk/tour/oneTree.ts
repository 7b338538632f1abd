import { Heap } from '../heap.ts'
import type { Stops } from './stops.ts'

/** A shortest tree through all stops, with what it weighs. */
export interface Tree {
  readonly weight: number
  /** Number of its edges at each stop. */
  readonly degree: Int32Array
}

/**
 * The lightest tree through all stops where an edge weighs its metres and the prices of both ends (Prim). O(count²) with
 * few exact distances: the metres in plan, which are never more, decide first.
 */
export function lightestTree({ count, xM, yM, distanceM }: Stops, price: Float64Array): Tree {
  const degree = new Int32Array(count)
  const parent = new Int32Array(count)
  const least = new Float64Array(count).fill(Infinity)
  const waiting = Int32Array.from({ length: count }, (_, k) => k)
  let left = count
  let weight = 0
  let at = 0
  let place = 0
  for (;;) {
    waiting[place] = waiting[--left]
    if (left === 0) break
    let next = 0
    for (let k = 0; k < left; k++) {
      const stop = waiting[k]
      const dearest = least[stop] - price[at] - price[stop]
      const dx = xM[at] - xM[stop]
      const dy = yM[at] - yM[stop]
      if (dearest > 0 && dx * dx + dy * dy < dearest * dearest) {
        const wayM = distanceM(at, stop)
        if (wayM < dearest) {
          least[stop] = wayM + price[at] + price[stop]
          parent[stop] = at
        }
      }
      if (least[stop] < least[waiting[next]]) next = k
    }
    place = next
    at = waiting[next]
    weight += least[at]
    degree[at]++
    degree[parent[at]]++
  }
  return { weight, degree }
}

/** Near stops of each: those of stop s are to[k], k = start[s] … start[s + 1] − 1. All must hang together. */
export interface NearGraph {
  readonly start: Int32Array
  readonly to: Int32Array
  readonly wayM: Float64Array
}

/** As `lightestTree`, among near stops only: no proof, but quick. O(edges log count). */
export function lightestTreeAmong({ start, to, wayM }: NearGraph, price: Float64Array): Tree {
  const count = price.length
  const degree = new Int32Array(count)
  const parent = new Int32Array(count).fill(-1)
  const least = new Float64Array(count).fill(Infinity)
  const isIn = new Uint8Array(count)
  const heap = new Heap()
  let weight = 0
  heap.push(0, 0)
  while (heap.size > 0) {
    const at = heap.pop()
    if (isIn[at] === 1) continue
    isIn[at] = 1
    if (parent[at] >= 0) {
      weight += least[at]
      degree[at]++
      degree[parent[at]]++
    }
    for (let k = start[at]; k < start[at + 1]; k++) {
      const stop = to[k]
      const edge = wayM[k] + price[at] + price[stop]
      if (isIn[stop] === 1 || edge >= least[stop]) continue
      least[stop] = edge
      parent[stop] = at
      heap.push(stop, edge)
    }
  }
  return { weight, degree }
}
