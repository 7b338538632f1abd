import { inSetUps, type LaidPair, type PlacePair } from './laidPairs.ts'

/**
 * Each point against the next, and with `most` 2 against the next but one, too, where the lead spans it. The first
 * clip moves as seldom as can be: a chain is laid from every second point to its two neighbours, with those next but
 * one from two points of every three (what is left out, is never next or next but one to another that is). n points
 * within reach of their neighbours give n − 1 pairs, or 2n − 3. O(n).
 */
export function layChain(
  points: readonly number[],
  most: 1 | 2,
  isInReach: (a: number, b: number) => boolean,
): readonly LaidPair[] {
  const pairs: PlacePair[] = []
  points.forEach((point, k) => {
    for (let step = 1; step <= most && k + step < points.length; step++) {
      if (isInReach(point, points[k + step])) pairs.push([k, k + step])
    }
  })
  return inSetUps(points, pairs, (place) => place % (most + 1) !== 0)
}
