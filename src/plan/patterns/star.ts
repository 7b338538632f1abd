import type { LaidPair } from './laidPairs.ts'

export interface StarPoints {
  /** In line, in the order of the walk. */
  readonly points: readonly number[]
  /** Where a set-up is preferred if it serves as much: an earth bar. */
  readonly isPreferred: (point: number) => boolean
}

/** Points that the next set-up reads again, so that what clip and lead add at either ties up. */
const shared = 2

/**
 * One fixed point per set-up, every other one of its reach against it. A set-up stands as far on as it still reaches
 * the first point it must; the next begins with the last two points of this one. n points within reach of one of them
 * give n − 1 pairs. Points further from their neighbours than the lead begin anew. O(n · points within reach).
 */
export function layStar(
  { points, isPreferred }: StarPoints,
  straightM: (a: number, b: number) => number,
  reachM: number,
): readonly LaidPair[] {
  const laid: LaidPair[] = []
  const isInReach = (a: number, b: number) => straightM(a, b) <= reachM
  let start = 0
  while (start < points.length) {
    const furthest = furthestSetUp(points, start, isInReach)
    const end = lastServed(points, start, furthest, isInReach)
    const at =
      end === points.length - 1 ? bestSetUp(points, start, end, straightM, reachM, isPreferred) : furthest
    for (let k = start; k <= end; k++) if (k !== at) laid.push({ from: points[at], to: points[k] })
    start = nextStart(points, start, end, isInReach)
  }
  return laid
}

/** The last place from which every point from `start` to it is in reach. */
function furthestSetUp(points: readonly number[], start: number, isInReach: InReach): number {
  let at = start
  for (let next = start + 1; next < points.length && isInReach(points[start], points[next]); next++) {
    if (points.slice(start, next).every((point) => isInReach(point, points[next]))) at = next
  }
  return at
}

type InReach = (a: number, b: number) => boolean

/** The last place up to which every point from `at` on is in its reach. */
function lastServed(points: readonly number[], start: number, at: number, isInReach: InReach): number {
  let end = Math.max(start, at)
  while (end + 1 < points.length && isInReach(points[at], points[end + 1])) end++
  return end
}

/** Among the places that serve all from `start` to `end`: one that is preferred, else the one with the shortest lead. */
function bestSetUp(
  points: readonly number[],
  start: number,
  end: number,
  straightM: (a: number, b: number) => number,
  reachM: number,
  isPreferred: (point: number) => boolean,
): number {
  let best = { at: start, leadM: Infinity }
  for (let at = start; at <= end; at++) {
    let leadM = 0
    for (let k = start; k <= end && leadM <= reachM; k++) {
      leadM = Math.max(leadM, straightM(points[at], points[k]))
    }
    if (leadM > reachM) continue
    if (isPreferred(points[at])) return at
    if (leadM < best.leadM) best = { at, leadM }
  }
  return best.at
}

/** Where the next set-up begins: with the last points of this one where that still gets on, else behind it. */
function nextStart(points: readonly number[], start: number, end: number, isInReach: InReach): number {
  if (end >= points.length - 1) return points.length
  for (let next = Math.max(start + 1, end - shared + 1); next <= end; next++) {
    const at = furthestSetUp(points, next, isInReach)
    if (lastServed(points, next, at, isInReach) > end) return next
  }
  return end + 1
}
