import { portion } from '../../base/portion.ts'
import type { Asked, PairInstance, Signs } from './chooseTypes.ts'
import { showersOf, timesShownBy, type CoverSets, type Showers } from './coverSets.ts'
import { endCover, neededEnds, type Witness } from './ends.ts'
import { fewest, type Fewest } from './fewest.ts'
import { greedyCover } from './greedyCover.ts'
import { Partition } from './partition.ts'
import type { SearchEffort } from './search.ts'
import { lazyGreedy } from './lazyGreedy.ts'

export interface ToldApart extends Fewest {
  /** Whether the bound is that of the ends: every part of a run must be an end. */
  readonly isByEnds: boolean
}

/** Where each round of choosing takes a second or so. */
const mostEntries = 60_000
const mostRounds = 12

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
  const ends = neededEnds(instance, asked, true)
  const endBound = (yield* portion(fewest(endCover(instance, ends), { steps: 0 }), 0, 0.1)).bound
  const pairs = new PairRows(instance)
  for (const witness of ends.witness) if (witness.other >= 0) pairs.add(witness)
  let bound = endBound
  let isByEnds = true
  let isSearched = false
  let chosen: readonly number[] = []
  for (
    let round = 0;
    round < mostRounds && pairs.entries + instance.signs.joint.length <= mostEntries;
    round++
  ) {
    const sets = pairs.setsWith(asked.need)
    const found = yield* portion(fewest(sets, effort), 0.1 + (0.8 * round) / mostRounds, 0.8 / mostRounds)
    chosen = found.chosen
    if (found.bound > bound) {
      bound = found.bound
      isByEnds = false
      isSearched = found.isSearched
    }
    const alike = stillAlike(partitionBy(instance, asked, chosen), all)
    if (alike.length === 0) return { chosen, bound, isByEnds, isSearched }
    for (const pair of alike) pairs.add(pair)
  }
  return { chosen: completed(instance, asked, all, chosen), bound, isByEnds, isSearched }
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
  return spareOut(instance, asked, all.classes, taken)
}

/** Leaves out, last taken first, whatever is not needed to show and tell apart as much. */
export function spareOut(
  instance: PairInstance,
  asked: Asked,
  classes: number,
  taken: readonly number[],
): number[] {
  const { offset, joint } = instance.shown
  const times = timesShownBy(instance.shown, new Set(taken))
  let kept = [...new Set(taken)]
  if (kept.length > mostTried) return kept.sort((a, b) => a - b)
  for (const c of [...kept].reverse()) {
    let isShown = true
    for (let i = offset[c]; i < offset[c + 1] && isShown; i++)
      isShown = times[joint[i]] > asked.need[joint[i]]
    if (!isShown) continue
    const without = kept.filter((k) => k !== c)
    if (partitionBy(instance, asked, without).classes < classes) continue
    kept = without
    for (let i = offset[c]; i < offset[c + 1]; i++) times[joint[i]]--
  }
  return kept.sort((a, b) => a - b)
}

/** Each try goes through all that is chosen. */
const mostTried = 400

export function partitionBy(instance: PairInstance, { classOf }: Asked, chosen: Iterable<number>): Partition {
  const partition = new Partition(instance.signs, instance.weight, classOf)
  for (const c of chosen) partition.take(c)
  return partition
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

/** Rows of two joints each, met by every candidate that shows the two differently. */
class PairRows {
  entries = 0
  private readonly rows: number[][] = []
  private readonly shown: CoverSets
  private readonly signs: Signs
  private readonly showers: Showers

  constructor({ shown, signs }: PairInstance) {
    this.shown = shown
    this.signs = signs
    this.showers = showersOf(signs)
  }

  add({ joint, other }: Witness): void {
    const level = new Map<number, number>()
    const { offset, candidate, entry } = this.showers
    for (let i = offset[joint]; i < offset[joint + 1]; i++)
      level.set(candidate[i], this.signs.level[entry[i]])
    for (let i = offset[other]; i < offset[other + 1]; i++) {
      if (level.get(candidate[i]) === this.signs.level[entry[i]]) level.delete(candidate[i])
      else level.set(candidate[i], 0)
    }
    this.rows.push([...level.keys()])
    this.entries += level.size
  }

  setsWith(need: Uint8Array): CoverSets {
    const { joints, candidates, offset, joint } = this.shown
    const extra: number[][] = Array.from({ length: candidates }, () => [])
    this.rows.forEach((row, r) => {
      for (const c of row) extra[c].push(joints + r)
    })
    const start = new Int32Array(candidates + 1)
    const shown = new Int32Array(joint.length + this.entries)
    for (let c = 0; c < candidates; c++) {
      shown.set(joint.subarray(offset[c], offset[c + 1]), start[c])
      shown.set(extra[c], start[c] + offset[c + 1] - offset[c])
      start[c + 1] = start[c] + offset[c + 1] - offset[c] + extra[c].length
    }
    const demand = new Uint8Array(joints + this.rows.length).fill(1)
    demand.set(need)
    return { joints: joints + this.rows.length, candidates, demand, offset: start, joint: shown }
  }
}

function everyCandidate({ candidates }: CoverSets): number[] {
  return Array.from({ length: candidates }, (_, c) => c)
}

function flagsOf(candidates: number, chosen: readonly number[]): Uint8Array {
  const flags = new Uint8Array(candidates)
  for (const c of chosen) flags[c] = 1
  return flags
}
