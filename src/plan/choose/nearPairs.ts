import type { Signs } from './chooseTypes.ts'
import { showersOf } from './coverSets.ts'
import type { Witness } from './ends.ts'

/** Entries that are gone through at most: a second or so. */
const mostWork = 2e7

/**
 * For each joint the two others that the fewest candidates tell from it, of those that some candidate feels together with
 * it: where they are told apart, others mostly are too. Each pair once; none where there are too many to go through.
 */
export function nearPairs(signs: Signs): Witness[] {
  const { joints, offset, joint, level } = signs
  const showers = showersOf(signs)
  let work = 0
  for (let c = 0; c < signs.candidates; c++) work += (offset[c + 1] - offset[c]) ** 2
  if (work > mostWork) return []
  const width = (e: number) => showers.offset[e + 1] - showers.offset[e]
  const together = new Int32Array(joints)
  const found = new Map<number, Witness>()
  for (let e = 0; e < joints; e++) {
    const met: number[] = []
    for (let s = showers.offset[e]; s < showers.offset[e + 1]; s++) {
      const c = showers.candidate[s]
      for (let i = offset[c]; i < offset[c + 1]; i++) {
        if (joint[i] === e || level[i] !== level[showers.entry[s]]) continue
        if (together[joint[i]]++ === 0) met.push(joint[i])
      }
    }
    const differenceTo = (f: number) => width(e) + width(f) - 2 * together[f]
    const near = met
      .map((f) => ({ f, difference: differenceTo(f) }))
      .filter(({ difference }) => difference > 0)
      .sort((x, y) => x.difference - y.difference || x.f - y.f)
    for (const { f } of near.slice(0, 2))
      found.set(Math.min(e, f) * joints + Math.max(e, f), { joint: Math.min(e, f), other: Math.max(e, f) })
    for (const f of met) together[f] = 0
  }
  return [...found.values()]
}
