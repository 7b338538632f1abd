import type { PairReach } from '../reading/pairReach.ts'

/** The joints that carry a pair's scatter, by ascending number, and the variance that all of its joints give it. */
export interface CarriedScatter {
  readonly edge: Int32Array
  readonly share: Float64Array
  readonly varianceOhm2: Float64Array
  readonly ofAllOhm2: number
}

/**
 * Of a pair's variance from scatter, joints that together give so little are left out where pairs are held against each
 * other: by Cauchy and Schwarz the correlation of two pairs is off by 2·10⁻⁶ at most. On a grid of metal every pair sends
 * a trickle through every joint, and a small part of them carries nearly all.
 */
const leftOut = 1e-12

/** O(joints log joints) of the pair. */
export function carriedScatter({ edge, scatterShare, varianceOhm2 }: PairReach): CarriedScatter {
  const parts = scatterShare.map((share, k) => share * share * varianceOhm2[k])
  const ofAllOhm2 = parts.reduce((sum, part) => sum + part, 0)
  const ascending = parts.slice().sort()
  let dropped = 0
  let first = 0
  while (first < ascending.length && dropped + ascending[first] <= leftOut * ofAllOhm2) {
    dropped += ascending[first++]
  }
  const least = first < ascending.length ? ascending[first] : Infinity
  const places = Int32Array.from(edge.keys()).filter((k) => parts[k] >= least)
  return {
    edge: Int32Array.from(places, (k) => edge[k]),
    share: Float64Array.from(places, (k) => scatterShare[k]),
    varianceOhm2: Float64Array.from(places, (k) => varianceOhm2[k]),
    ofAllOhm2,
  }
}
