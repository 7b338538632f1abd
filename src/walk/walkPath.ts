import { partPositionM } from '../layout/positions.ts'
import type { PointM } from '../model/schema/primitives.ts'
import type { SetUpPath, WalkPath } from '../model/walkPath.ts'
import type { Ground } from './ground/ground.ts'
import { standsFor, type Stand } from './ground/stands.ts'
import { wayBetween } from './ground/ways.ts'
import type { LaidOutPair, LaidOutWalk } from './layOut.ts'

/**
 * Where the ways of a walk lead, over the ground that it was laid out on: its lines are as long as the walk says. A search
 * for each leg that leaves its strip. Yields the fraction done.
 */
export function* walkPathOf(ground: Ground, { order, setUps }: LaidOutWalk): Generator<number, WalkPath> {
  const parts = Int32Array.from(new Set(order.flatMap(({ from, to }) => [from, to]))).sort()
  const stands = standsFor(ground, parts)
  const standAt = new Map(Array.from(parts, (part, k) => [part, stands[k]]))
  const paths: SetUpPath[] = []
  let next = 0
  for (const [s, { at, pairs }] of setUps.entries()) {
    const own = order.slice(next, (next += pairs))
    const before = s === 0 ? null : setUps[s - 1].at
    paths.push(pathOf(ground, (part) => standAt.get(part)!, own, before, at))
    if (s % 32 === 31) yield s / setUps.length
  }
  return { setUps: paths }
}

function pathOf(
  ground: Ground,
  standOf: (part: number) => Stand,
  own: readonly LaidOutPair[],
  before: number | null,
  at: number,
): SetUpPath {
  const placeM = (part: number) => partPositionM(ground.index, part)!
  const ends = own.map(({ to }) => to)
  const round = [at, ...ends, at].map(standOf)
  return {
    clipM: placeM(at),
    approachM: before === null ? new Float64Array(0) : flat(wayBetween(ground, standOf(before), standOf(at))),
    roundM: flat(round.slice(1).flatMap((stand, k) => wayBetween(ground, round[k], stand))),
    farM: Float64Array.from(ends.flatMap((part) => [placeM(part).x, placeM(part).y])),
  }
}

/** Points as numbers, without those that repeat the one before. */
function flat(points: readonly PointM[]): Float64Array {
  const apart = points.filter(({ x, y }, k) => k === 0 || x !== points[k - 1].x || y !== points[k - 1].y)
  return Float64Array.from(apart.flatMap(({ x, y }) => [x, y]))
}
