import type { Asked, PairInstance } from './chooseTypes.ts'
import { showersOf } from './coverSets.ts'
import type { NeededEnds } from './ends.ts'

/** A joint that only readings with an end at one part feel, such as the bracket of a post, all of them at one level. */
interface Leaf {
  readonly joint: number
  readonly part: number
  /** Leaves of one group are alike until something is read, and all felt at the same level. */
  readonly group: string
}

/**
 * A bound on the number of candidates that show all joints and tell them apart, from leaves and from other parts that must be
 * ends. A candidate feels at most two leaves, one at either end, and two that one candidate and no other feels look
 * alike. With k candidates, ℓ leaves felt d_e times each and m ends elsewhere, Σ d_e + m ≤ 2k, and at most k of the d_e are
 * 1: k ≥ ⌈(2ℓ + m)/3⌉ (without other ends ⌈2ℓ/3⌉: tests of two items in the test cover problem, De Bontridder et al. 2003, from
 * memory). `classOf`: classes that all candidates together tell apart; of joints that none tells apart one counts, by
 * what it needs to be shown the others.
 */
export function leafBound(
  instance: PairInstance,
  { need, classOf: before }: Asked,
  classOf: Int32Array,
  ends: Pick<NeededEnds, 'part' | 'times'>,
): number {
  const groups = new Map<string, { readonly classes: Set<number>; surplus: number }>()
  let shown = 0
  const elsewhere = new Map(ends.part.map((part, i) => [part, ends.times[i]]))
  for (const { joint, group, part } of leavesOf(instance, need, before)) {
    elsewhere.delete(part)
    shown += need[joint]
    const own = groups.get(group) ?? { classes: new Set<number>(), surplus: 0 }
    groups.set(group, own)
    // a leaf that need be shown but once is felt twice, or it is the only one of its candidate that is not
    if (!own.classes.has(classOf[joint]) && need[joint] === 1) own.surplus++
    own.classes.add(classOf[joint])
  }
  const surplus = Math.max(0, ...[...groups.values()].map((group) => group.surplus))
  for (const times of elsewhere.values()) shown += times
  return Math.max(Math.ceil(shown / 2), Math.ceil((shown + surplus) / 3))
}

/** Leaves that are to be shown, one for each part. O(entries). */
function leavesOf({ signs, from, to }: PairInstance, need: Uint8Array, before: Int32Array): readonly Leaf[] {
  const { offset, candidate, entry } = showersOf(signs)
  const taken = new Set<number>()
  const leaves: Leaf[] = []
  for (let joint = 0; joint < signs.joints; joint++) {
    const [first, end] = [offset[joint], offset[joint + 1]]
    if (need[joint] === 0 || first === end) continue
    const level = signs.level[entry[first]]
    const isLeafAt = (part: number) => {
      if (taken.has(part)) return false
      for (let i = first; i < end; i++) {
        const c = candidate[i]
        if ((from[c] !== part && to[c] !== part) || signs.level[entry[i]] !== level) return false
      }
      return true
    }
    const part = [from[candidate[first]], to[candidate[first]]].find(isLeafAt)
    if (part === undefined) continue
    taken.add(part)
    leaves.push({ joint, part, group: `${before[joint]} ${level}` })
  }
  return leaves
}
