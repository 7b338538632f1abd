import { randomStream } from '../../../src/base/random.ts'
import type { SiteIndex } from '../../../src/layout/siteIndex.ts'
import type { PlanPairInput, PlanPattern } from '../../../src/model/planning.ts'
import type { LaidPair } from '../../../src/plan/patterns/laidPairs.ts'
import { layPattern } from '../../../src/plan/patterns/layPattern.ts'
import type { Stretch } from '../../../src/plan/patterns/pointOrder.ts'
import { straightM } from '../../../src/walk/reach.ts'
import { named, partsInOrder, reachedParts, thinned } from './pointsOfSite.ts'

export const otherNames = ['star', 'chain', 'skipOne', 'random'] as const
export type OtherName = (typeof otherNames)[number]

/** Another plan of at most so many pairs: a pattern through as many evenly spread points as that gives, or pairs by lot. */
export function otherPlan(
  name: OtherName,
  index: SiteIndex,
  reachM: number,
  pairs: number,
  seed: number,
): readonly PlanPairInput[] {
  const laid = name === 'random' ? byLot(index, reachM, pairs, seed) : evenly(name, index, reachM, pairs)
  return laid.map(({ from, to }) => named(index, from, to))
}

function evenly(pattern: PlanPattern, index: SiteIndex, reachM: number, pairs: number): readonly LaidPair[] {
  const stretches = partsInOrder(index)
  const lay = (points: number): readonly LaidPair[] =>
    layPattern(pattern, index, thinned(stretches, points), reachM)
  return lay(mostPoints(stretches, (points) => lay(points).length <= pairs))
}

/** The largest number of points for which something holds; more points give more pairs, all but always. */
function mostPoints(stretches: readonly Stretch[], holds: (points: number) => boolean): number {
  let [low, high] = [1, stretches.reduce((sum, { rungs }) => sum + rungs.length, 0) + 1]
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2)
    if (holds(middle)) low = middle
    else high = middle
  }
  return low
}

function byLot(index: SiteIndex, reachM: number, pairs: number, seed: number): readonly LaidPair[] {
  const random = randomStream(seed)
  const parts = reachedParts(index)
  const taken = new Map<string, LaidPair>()
  const mostTries = 10_000 * (pairs + 1)
  for (let tries = 0; taken.size < pairs && tries < mostTries; tries++) {
    const from = parts[random.integer(parts.length)]
    const to = parts[random.integer(parts.length)]
    if (from < to && straightM(index, from, to) <= reachM) taken.set(`${from} ${to}`, { from, to })
  }
  return [...taken.values()]
}
