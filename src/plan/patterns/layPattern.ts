import { earthBarCode } from '../../layout/partKinds.ts'
import { partKindAt } from '../../layout/partIndex.ts'
import type { SiteIndex } from '../../layout/siteIndex.ts'
import type { PlanPattern } from '../../model/planning.ts'
import { straightM } from '../../walk/reach.ts'
import { layChain } from './chain.ts'
import { layLadder } from './ladder.ts'
import type { LaidPair } from './laidPairs.ts'
import type { Rung, Stretch } from './pointOrder.ts'
import { layStar } from './star.ts'

/**
 * The pairs of a starting pattern over points in the order of a walk (`pointsInOrder`), set-up by set-up in the order
 * of that walk. No pair is further apart than the lead reaches, no point has an end that no clip reaches; where
 * neighbours are too far apart for the lead the pattern begins anew.
 */
export function layPattern(
  pattern: PlanPattern,
  index: SiteIndex,
  stretches: readonly Stretch[],
  reachM: number,
): readonly LaidPair[] {
  const awayM = (a: number, b: number) => straightM(index, a, b)
  const isInReach = (a: number, b: number) => a !== b && awayM(a, b) <= reachM
  if (pattern === 'ladder') return layLadder(stretches, isInReach)
  if (pattern !== 'star') {
    return layChain(stretches.flatMap(crossing), pattern === 'chain' ? 1 : 2, isInReach)
  }
  const isPreferred = (part: number) => partKindAt(index, part) === earthBarCode
  return stretches.flatMap((stretch, k) => {
    const points = crossing(stretch)
    const before = k === 0 ? undefined : crossing(stretches[k - 1]).at(-1)
    // ties the row to what was walked before it
    const tied = before !== undefined && isInReach(before, points[0]) ? [before] : []
    return layStar({ points: [...tied, ...points], isPreferred }, awayM, reachM)
  })
}

/** One point of each rung, from side to side, so that what runs between two points crosses the table. */
function crossing({ rungs }: Stretch): readonly number[] {
  return rungs.map(({ low, high }: Rung, k) => (k % 2 === 0 ? low : (high ?? low)))
}
