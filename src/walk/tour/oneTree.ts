import { portionSteps } from '../../base/portion.ts'
import { Heap } from '../heap.ts'
import type { Stops } from './stops.ts'

/** A shortest tree through all stops, with what it weighs. */
export interface Tree {
  readonly weight: number
  /** Number of its edges at each stop. */
  readonly degree: Int32Array
  /** Its edges: each stop but one to its parent, with what the edge weighs; −1 where there is none. */
  readonly parent: Int32Array
  readonly edge: Float64Array
}

/**
 * The lightest tree through all stops where an edge weighs its metres and the prices of both ends (Prim). O(count²) with
 * few exact distances: the metres in plan, which are never more, decide first; an edge heavier than all those between its
 * ends in `known`, some tree at the same prices, is in no lightest tree. Yields the fraction done.
 */
export function* lightestTree(
  { count, xM, yM, distanceM }: Stops,
  price: Float64Array,
  known: Tree | null = null,
): Generator<number, Tree> {
  const heaviestM = known ? heaviestBetween(known) : () => Infinity
  const degree = new Int32Array(count)
  const parent = new Int32Array(count).fill(-1)
  const least = new Float64Array(count).fill(Infinity)
  const waiting = Int32Array.from({ length: count }, (_, k) => k)
  let left = count
  let weight = 0
  let at = 0
  let place = 0
  /** The next one of those that wait, after `at` has come near them. */
  const nearest = () => {
    let next = 0
    for (let k = 0; k < left; k++) {
      const stop = waiting[k]
      const dearest = least[stop] - price[at] - price[stop]
      const dx = xM[at] - xM[stop]
      const dy = yM[at] - yM[stop]
      const squareM2 = dx * dx + dy * dy
      if (dearest > 0 && squareM2 < dearest * dearest) {
        const most = heaviestM(at, stop) - price[at] - price[stop]
        const wayM =
          most === Infinity || Math.sqrt(squareM2) <= most + roundingM ? distanceM(at, stop) : Infinity
        if (wayM < dearest) {
          least[stop] = wayM + price[at] + price[stop]
          parent[stop] = at
        }
      }
      if (least[stop] < least[waiting[next]]) next = k
    }
    return next
  }
  for (let looked = 0; ; looked += left) {
    waiting[place] = waiting[--left]
    if (left === 0) break
    if (looked > portionSteps) {
      looked = 0
      // of all pairs of stops, those that are looked at
      yield 1 - (left / count) ** 2
    }
    place = nearest()
    at = waiting[place]
    weight += least[at]
    degree[at]++
    degree[parent[at]]++
  }
  return { weight, degree, parent, edge: least }
}

const roundingM = 1e-6

/** The heaviest edge between two stops of a tree, by merging stops along its edges, lightest first. O(log count) to ask. */
function heaviestBetween({ parent, edge }: Tree): (a: number, b: number) => number {
  const count = parent.length
  const above = Int32Array.from({ length: count }, (_, k) => k)
  const weight = new Float64Array(count).fill(Infinity)
  const size = new Int32Array(count).fill(1)
  const top = (stop: number) => {
    while (above[stop] !== stop) stop = above[stop]
    return stop
  }
  const order = Int32Array.from(parent.keys()).filter((stop) => parent[stop] >= 0)
  order.sort((a, b) => edge[a] - edge[b] || a - b)
  for (const stop of order) {
    const [one, other] = [top(stop), top(parent[stop])]
    const [small, large] = size[one] < size[other] ? [one, other] : [other, one]
    above[small] = large
    weight[small] = edge[stop]
    size[large] += size[small]
  }
  return (a, b) => {
    let heaviest = -Infinity
    while (a !== b) {
      if (weight[a] <= weight[b]) {
        heaviest = weight[a]
        a = above[a]
      } else {
        heaviest = weight[b]
        b = above[b]
      }
    }
    return heaviest
  }
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
  return { weight, degree, parent, edge: least }
}
