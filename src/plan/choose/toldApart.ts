import { portion } from '../../base/portion.ts'
import type { Asked, PairInstance } from './chooseTypes.ts'
import { everyCandidate } from './coverSets.ts'
import { endBound } from './endBound.ts'
import type { Witness } from './ends.ts'
import { fewest, type Fewest } from './fewest.ts'
import { greedyCover } from './greedyCover.ts'
import { nearPairs } from './nearPairs.ts'
import { PairRows } from './pairRows.ts'
import { partitionBy, type Partition } from './partition.ts'
import { lightEffort, type SearchEffort } from './search.ts'
import { withSharedEnds } from './sharedEnds.ts'
import { spareOut } from './spareOut.ts'
import { lazyGreedy } from './lazyGreedy.ts'

export interface ToldApart extends Fewest {
  /** Whether the bound is that of the ends: every part of a run must be an end. */
  readonly isByEnds: boolean
}

const mostRounds = 25
const mostSharingRounds = 12

/**
 * The fewest candidates that show every joint and tell apart every two that any candidates do: a test cover, solved as
 * set cover with a row per pair of joints, of which only those are written down that a choice left alike (lazy
 * constraints; De Bontridder et al. 2003 for the problem). Each round's bound holds for the whole, as it asks for less. On
 * pieces that are too large, and where rounds run out, the greedy by entropy tells apart what is left.
 */
export function* toldApart(
  instance: PairInstance,
  asked: Asked,
  effort: SearchEffort,
): Generator<number, ToldApart> {
  const all = partitionBy(instance, asked, everyCandidate(instance.shown))
  const { ends, bound: least } = yield* portion(endBound(instance, asked, all.classOf), 0, 0.1)
  const pairs = new PairRows(instance)
  for (const witness of ends.witness) if (witness.other >= 0) pairs.add(witness)
  for (const pair of nearPairs(instance.signs)) {
    const { joint, other } = pair
    const isOpen = asked.classOf[joint] === asked.classOf[other]
    if (isOpen && all.classOf[joint] !== all.classOf[other]) pairs.add(pair)
  }
  let bound = least
  let isByEnds = true
  let isSearched = false
  let chosen: readonly number[] = []
  const done = (round: number) => 0.1 + (0.9 * round) / mostRounds
  for (let round = 0; round < mostRounds; round++) {
    const sets = pairs.setsWith(asked.need)
    effort.testEntries -= sets.joint.length
    if (effort.testEntries < 0) break
    let found = yield* portion(fewest(sets, lightEffort()), done(round), 0.5 / mostRounds)
    let alike = stillAlike(partitionBy(instance, asked, found.chosen), all)
    if (alike.length === 0) {
      found = yield* portion(fewest(sets, effort), done(round + 0.5), 0.4 / mostRounds)
      alike = stillAlike(partitionBy(instance, asked, found.chosen), all)
    }
    chosen = found.chosen
    if (found.bound > bound) {
      bound = found.bound
      isByEnds = false
      isSearched = found.isSearched
    }
    if (alike.length === 0) {
      const shared = yield* portion(sharing(instance, asked, all, pairs, chosen), done(round + 1), 0)
      return { chosen: shared, bound, isByEnds, isSearched }
    }
    for (const pair of alike) pairs.add(pair)
  }
  const told = completed(instance, asked, all, chosen)
  const shared = yield* portion(sharing(instance, asked, all, pairs, told), 1, 0)
  return { chosen: shared, bound, isByEnds, isSearched }
}

/**
 * Swaps, one for one, so that pairs share parts, with all rows met that are written down; what the swaps leave alike is written
 * down too, and they are begun again. The choice as it was where that does not end.
 */
function* sharing(
  instance: PairInstance,
  asked: Asked,
  all: Partition,
  pairs: PairRows,
  chosen: readonly number[],
): Generator<number, readonly number[]> {
  for (let round = 0; round < mostSharingRounds; round++) {
    const sets = pairs.setsWith(asked.need)
    const shared = yield* withSharedEnds({ ...instance, shown: sets }, sets.demand, chosen)
    const alike = stillAlike(partitionBy(instance, asked, shared), all)
    if (alike.length === 0) return shared
    for (const pair of alike) pairs.add(pair)
  }
  return chosen
}

/** What a choice is completed to by gain of entropy until it shows and tells apart all that can be. */
function completed(
  instance: PairInstance,
  asked: Asked,
  all: Partition,
  chosen: readonly number[],
): readonly number[] {
  const need = asked.need.slice()
  const taken = [...chosen]
  const { offset, joint, candidates } = instance.shown
  for (const c of taken)
    for (let i = offset[c]; i < offset[c + 1]; i++) if (need[joint[i]] > 0) need[joint[i]]--
  taken.push(...greedyCover(instance.shown, need, { without: flagsOf(candidates, taken) }))
  const partition = partitionBy(instance, asked, taken)
  taken.push(
    ...lazyGreedy(
      candidates,
      (c) => partition.gain(c),
      (c) => {
        partition.take(c)
        return partition.classes < all.classes
      },
    ),
  )
  return spareOut(instance, asked, taken)
}

/** Neighbours, in every class of one partition, of those that the finer one tells apart. */
function stillAlike(coarse: Partition, fine: Partition): Witness[] {
  const seen = new Map<number, Map<number, number>>()
  for (let e = 0; e < coarse.classOf.length; e++) {
    const own = seen.get(coarse.classOf[e]) ?? new Map<number, number>()
    seen.set(coarse.classOf[e], own)
    if (!own.has(fine.classOf[e])) own.set(fine.classOf[e], e)
  }
  const found: Witness[] = []
  for (const own of seen.values()) {
    const firsts = [...own.values()]
    for (let i = 1; i < firsts.length; i++) found.push({ joint: firsts[i - 1], other: firsts[i] })
  }
  return found
}

function flagsOf(candidates: number, chosen: readonly number[]): Uint8Array {
  const flags = new Uint8Array(candidates)
  for (const c of chosen) flags[c] = 1
  return flags
}
