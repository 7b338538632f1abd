import type { PairInstance } from './chooseTypes.ts'
import { showersOf, timesShownBy } from './coverSets.ts'

/** Minutes that one more place costs where a clip is set: judgement, half of moving the instrument. */
const endMin = 2
const mostPasses = 10

/**
 * Swaps candidates one for one as long as all needs stay met and minutes fall: those of the pairs, and some for every
 * part at which a clip is set, so that pairs come to share parts and a walk needs fewer set-ups. As many candidates
 * as before. Yields its fraction done.
 */
export function* withSharedEnds(
  instance: PairInstance,
  need: Uint8Array,
  chosen: readonly number[],
): Generator<number, number[]> {
  const { shown, minutes, from, to } = instance
  const { offset, joint } = shown
  const showers = showersOf(shown)
  const times = timesShownBy(shown, chosen)
  const taken = new Set(chosen)
  const ends = new Map<number, number>()
  const countEnds = (c: number, by: number) => {
    for (const u of [from[c], to[c]]) ends.set(u, (ends.get(u) ?? 0) + by)
  }
  const count = (c: number, by: number) => {
    for (let i = offset[c]; i < offset[c + 1]; i++) times[joint[i]] += by
    countEnds(c, by)
  }
  for (const c of chosen) countEnds(c, 1)
  const costOf = (c: number) =>
    minutes[c] + ((ends.get(from[c]) ?? 0) === 0 ? endMin : 0) + ((ends.get(to[c]) ?? 0) === 0 ? endMin : 0)
  const short = (e: number) => times[e] < need[e]
  let looked = 0
  for (let pass = 0; pass < mostPasses; pass++) {
    let isChanged = false
    for (const p of [...taken].sort((a, b) => a - b)) {
      taken.delete(p)
      count(p, -1)
      let rarest = -1
      let shortCount = 0
      for (let i = offset[p]; i < offset[p + 1]; i++) {
        const e = joint[i]
        if (!short(e)) continue
        shortCount++
        if (rarest < 0 || widthOf(showers.offset, e) < widthOf(showers.offset, rarest)) rarest = e
      }
      let best = p
      let least = costOf(p) - 1e-9
      for (
        let i = rarest < 0 ? 0 : showers.offset[rarest];
        rarest >= 0 && i < showers.offset[rarest + 1];
        i++
      ) {
        const c = showers.candidate[i]
        if (taken.has(c) || costOf(c) >= least) continue
        let met = 0
        for (let at = offset[c]; at < offset[c + 1]; at++) if (short(joint[at])) met++
        if (met < shortCount) continue
        best = c
        least = costOf(c)
      }
      taken.add(best)
      count(best, 1)
      isChanged ||= best !== p
      if (++looked % 256 === 0) yield pass / mostPasses
    }
    if (!isChanged) break
  }
  return [...taken].sort((a, b) => a - b)
}

function widthOf(offset: Int32Array, e: number): number {
  return offset[e + 1] - offset[e]
}
