import { mutualPerM } from './buriedPieces.ts'
import type { BuriedPieces } from './buriedPieces.ts'

/**
 * Pieces that share one cell, halved again and again where the gap between them is widest. `meanPerM` of a pair
 * is the mean mutual resistance over the pieces on its two sides; `leastSelfPerM` the least that any piece below reads
 * alone.
 */
export type SoilCluster =
  | { readonly is: 'piece'; readonly piece: number; readonly leastSelfPerM: number }
  | {
      readonly is: 'pair'
      readonly first: SoilCluster
      readonly second: SoilCluster
      readonly meanPerM: number
      readonly leastSelfPerM: number
    }

/** Above this many pairs of pieces a mean is taken over evenly spread ones. */
const pairsInMean = 1024
/** Above so many pieces they are halved by number. */
const mostInSearch = 16
/** Share of what its pieces read alone that a cluster's common resistance may come to. */
export const mostCommon = 0.95

/** O(k log k) for k pieces. */
export function clusterPieces(pieces: BuriedPieces, members: readonly number[]): SoilCluster {
  if (members.length === 1) {
    const [piece] = members
    return { is: 'piece', piece, leastSelfPerM: pieces.selfPerM[piece] }
  }
  const [a, b] = halves(pieces, members)
  const first = clusterPieces(pieces, a)
  const second = clusterPieces(pieces, b)
  const leastSelfPerM = Math.min(first.leastSelfPerM, second.leastSelfPerM)
  const meanPerM = Math.min(meanMutual(pieces, a, b), mostCommon * leastSelfPerM)
  return { is: 'pair', first, second, meanPerM, leastSelfPerM }
}

function halves(pieces: BuriedPieces, members: readonly number[]): [number[], number[]] {
  const { xM, yM } = pieces
  const along = extent(xM, members) >= extent(yM, members) ? xM : yM
  const sorted = [...members].sort((p, q) => along[p] - along[q] || p - q)
  const cut = sorted.length > mostInSearch ? sorted.length >> 1 : widestGap(sorted.map((p) => along[p]))
  return [sorted.slice(0, cut), sorted.slice(cut)]
}

/** The place before which the widest gap of ascending numbers lies; of gaps as wide, the one nearest to the middle. */
function widestGap(ascending: readonly number[]): number {
  const middle = ascending.length / 2
  let best = 1
  for (let k = 2; k < ascending.length; k++) {
    const more = ascending[k] - ascending[k - 1] - (ascending[best] - ascending[best - 1])
    const isEven = Math.abs(more) < 1e-6
    if (isEven ? Math.abs(k - middle) < Math.abs(best - middle) : more > 0) best = k
  }
  return best
}

function extent(place: Float64Array, members: readonly number[]): number {
  let [least, most] = [Infinity, -Infinity]
  for (const piece of members) {
    least = Math.min(least, place[piece])
    most = Math.max(most, place[piece])
  }
  return most - least
}

function meanMutual(pieces: BuriedPieces, a: readonly number[], b: readonly number[]): number {
  const pairs = a.length * b.length
  const step = Math.max(1, Math.floor(pairs / pairsInMean))
  let sum = 0
  let taken = 0
  for (let k = 0; k < pairs; k += step, taken++) {
    sum += mutualPerM(pieces, a[Math.floor(k / b.length)], b[k % b.length])
  }
  return sum / taken
}
