import { inSetUps, type LaidPair, type PlacePair } from './laidPairs.ts'
import type { Rung, Stretch } from './pointOrder.ts'

/**
 * Along both sides of each row, with a rung wherever there are two sides; rows and what stands between them are tied
 * along the lower side. The first clip goes from side to side, so that one set-up serves a rung and the rails on
 * either hand: n rungs of one row give 3n − 2 pairs from n set-ups. O(n).
 *
 *     high  o───●───o───●          ● set-up
 *           │   │   │   │
 *     low   ●───o───●───o
 */
export function layLadder(
  stretches: readonly Stretch[],
  isInReach: (a: number, b: number) => boolean,
): readonly LaidPair[] {
  const rungs = stretches.flatMap((stretch) => stretch.rungs.map((rung) => ({ rung, stretch })))
  const points = rungs.flatMap(({ rung: { low, high } }) => [low, high ?? low])
  const pairs: PlacePair[] = []
  rungs.forEach(({ rung, stretch }, k) => {
    const add = (one: number, other: number) => {
      if (isInReach(points[one], points[other])) pairs.push([one, other])
    }
    if (rung.high !== null) add(2 * k, 2 * k + 1)
    const next = rungs[k + 1]
    if (!next) return
    add(2 * k, 2 * k + 2)
    if (next.stretch === stretch && hasTwo(rung) && hasTwo(next.rung)) add(2 * k + 1, 2 * k + 3)
  })
  // low places are even, high ones odd: low at every second rung, high at the others
  return inSetUps(points, pairs, (place) => place % 4 === 0 || place % 4 === 3)
}

function hasTwo({ high }: Rung): boolean {
  return high !== null
}
