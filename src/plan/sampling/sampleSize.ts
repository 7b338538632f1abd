import { badOf, clusteredAcceptance } from './clusterSample.ts'
import { hypergeometricAtMost } from './hypergeometric.ts'

/** What a sample shall show: with so many failures or fewer one is so sure that less than this share of the lot is bad. */
export interface Demand {
  readonly mostBadShare: number
  readonly confidence: number
  readonly failuresAllowed: number
}

/** The chance that is left, with what rounding may take away: 1 of 20 is no more than 1 − 0.95. */
export function chanceLeft(confidence: number): number {
  return (1 - confidence) * (1 + 1e-9)
}

/**
 * The fewest items, drawn one by one from a lot without putting back, with which a lot as bad as that is accepted with a
 * chance of at most 1 − confidence. All of them where nothing less will do; null where not even all of them can show it,
 * as the lot holds fewer bad ones than failures are allowed. O(log items) sums.
 */
export function smallestSample(
  items: number,
  { mostBadShare, confidence, failuresAllowed }: Demand,
): number | null {
  const bad = badOf(mostBadShare, items)
  if (bad <= failuresAllowed) return null
  return smallestOf(
    items,
    (drawn) => hypergeometricAtMost(failuresAllowed, { items, bad, drawn }) <= chanceLeft(confidence),
  )
}

/**
 * The fewest tables of a lot with `perTable` items drawn in each. Null where not even all tables do with so many of
 * each. Reckoned with the tables that give least, as nobody knows yet which are drawn.
 */
export function fewestTables(
  lotSizes: readonly number[],
  perTable: number,
  correlation: number,
  { mostBadShare, confidence, failuresAllowed }: Demand,
): number | null {
  const least = lotSizes.map((size) => Math.min(size, perTable)).toSorted((a, b) => a - b)
  const isEnough = (tables: number) => {
    const sample = { lotSizes, drawnSizes: least.slice(0, tables), correlation }
    return clusteredAcceptance(sample, failuresAllowed, mostBadShare) <= chanceLeft(confidence)
  }
  return isEnough(lotSizes.length) ? smallestOf(lotSizes.length, isEnough) : null
}

/** The smallest of 1 … most for which something holds that, once it holds, goes on to hold; `most` at the latest. */
function smallestOf(most: number, holds: (count: number) => boolean): number {
  let [low, high] = [1, most]
  while (low < high) {
    const middle = Math.floor((low + high) / 2)
    if (holds(middle)) high = middle
    else low = middle + 1
  }
  return high
}
