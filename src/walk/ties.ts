import { effort, walkMin } from './effort.ts'
import type { SetUpOfPairs } from './setUps.ts'
import type { Stops } from './tour/stops.ts'

/** A reading that would tie a set-up to the one before, from its first clip to a point of the other. */
export interface TyingPair {
  /** Place of the set-up in the walk. */
  readonly setUp: number
  readonly at: number
  readonly to: number
  /** What it takes on top. */
  readonly minutes: number
}

/** A tie that takes longer than this does not cost little; judgement. */
const mostMinutes = 3

/**
 * For each set-up that has no point in common with the one before, the pair within reach that would give it one with the
 * fewest metres on top, where it costs little. `straightM`: what a lead between two points spans. O(points).
 */
export function tyingPairs(
  setUps: readonly SetUpOfPairs[],
  order: ArrayLike<number>,
  { distanceM }: Stops,
  straightM: (a: number, b: number) => number,
  reachM: number,
): readonly TyingPair[] {
  const ties: TyingPair[] = []
  for (let s = 1; s < order.length; s++) {
    const [before, own] = [setUps[order[s - 1]], setUps[order[s]]]
    if (sharesPoint(before, own)) continue
    const stopsM = [own.at, ...own.far]
    let best: TyingPair | null = null
    for (const to of [before.at, ...before.far]) {
      if (straightM(own.at, to) > reachM) continue
      const detourM = 2 * stopsM.reduce((leastM, stop) => Math.min(leastM, distanceM(stop, to)), Infinity)
      const minutes = effort.sameReferenceMin + walkMin(detourM)
      if (minutes < (best?.minutes ?? Infinity)) best = { setUp: s, at: own.at, to, minutes }
    }
    if (best && best.minutes <= mostMinutes) ties.push(best)
  }
  return ties
}

export function sharesPoint(one: SetUpOfPairs, other: SetUpOfPairs): boolean {
  const points = new Set([one.at, ...one.far])
  return points.has(other.at) || other.far.some((point) => points.has(point))
}
