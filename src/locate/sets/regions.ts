import { largestRiseOhm } from '../../network/jointSweep.ts'
import { loopAtReadingS } from '../clampedLoop.ts'
import type { SetInputs } from './setInputs.ts'
import { setRisesOhm } from './setShift.ts'

/** A candidate and a reading hang together when its opening moves the reading by this share of its spread. */
export const linkShare = 0.25

/**
 * Candidates that share a reading, directly or through others, by ascending candidate and region by region in the
 * order of their first: connected components of candidates and readings, after leaving out what moves a reading by
 * less than `linkShare` of its spread on a sound array of the stated soil. Pairs that part readings hang together with
 * what these hang together with. O(candidates × readings).
 */
export function regionsOf(
  { network, models, levels, centre, choices, parting }: SetInputs,
  share = linkShare,
): readonly (readonly number[])[] {
  const { squared, networkOhm } = models[centre]
  const { soundSdOhm } = levels[centre]
  const n = networkOhm.length
  const root = Array.from(choices, (_, k) => k)
  const find = (k: number): number => {
    while (root[k] !== k) k = root[k] = root[root[k]]
    return k
  }
  const firstOf = new Int32Array(n).fill(-1)
  choices.forEach((severities, k) => {
    if (severities.length === 0) return
    for (let p = 0; p < n; p++) {
      if (largestRiseOhm(squared[k * n + p], loopAtReadingS(models[centre], k, p)) < share * soundSdOhm[p])
        continue
      if (firstOf[p] < 0) firstOf[p] = k
      const one = find(firstOf[p])
      const other = find(k)
      root[Math.max(one, other)] = Math.min(one, other)
    }
  })
  for (const pair of parting.pairs) {
    const rise = setRisesOhm(
      network,
      models,
      centre,
      pair.map((candidate) => ({ candidate, addedOhm: Infinity })),
    )
    const join = (k: number) => {
      const [one, other] = [find(pair[0]), find(k)]
      root[Math.max(one, other)] = Math.min(one, other)
    }
    join(pair[1])
    for (let p = 0; p < n; p++) if (firstOf[p] >= 0 && rise[p] >= share * soundSdOhm[p]) join(firstOf[p])
  }
  const regions = new Map<number, number[]>()
  choices.forEach((severities, k) => {
    if (severities.length === 0) return
    const at = find(k)
    const region = regions.get(at) ?? []
    region.push(k)
    regions.set(at, region)
  })
  return [...regions.values()]
}
