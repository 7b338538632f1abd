import type { CandidateList, ShownByPair } from './candidateList.ts'
import { shownByPair } from './candidateList.ts'
import type { HiddenTerms } from './hidden.ts'
import type { LikeTables } from './likeTables.ts'
import { isInReach, type PartPair } from './ownPairs.ts'
import { viewOfPair } from './sighting.ts'
import { localPair, type ChainNumber } from './tableChains.ts'
import type { CarriedJoints } from './carryOver.ts'

/** Candidates in the making. */
export interface Making {
  readonly terms: HiddenTerms
  readonly tables: LikeTables
  readonly list: CandidateList
  /** Pairs by chains of like tables, and what the first of each that was looked at has shown. */
  readonly likePairs: Map<number, LikePairs>
  readonly chainNumber: ChainNumber
  /** Other pairs that were looked at, as one number each. */
  readonly seen: Set<number>
  templates: number
}

/** Pairs between the first and the last table of a chain, by their local numbers (`localPair`). */
export type LikePairs = ReadonlyMap<number, LikePair>

export interface LikePair {
  readonly one: number
  readonly other: number
  /** What it has shown where it was looked at first. */
  known: {
    readonly shown: ShownByPair
    readonly template: number
    /** Null where it shows joints beyond its row. */
    readonly joints: CarriedJoints | null
  } | null
}

/** Looks at a pair that belongs to no chain of tables and adds it if it can be taken and shows anything. */
export function* addPair(making: Making, { a, b }: PartPair): Generator<number, void> {
  const low = Math.min(a, b)
  const high = Math.max(a, b)
  const key = low * making.terms.book.sighting.prepared.network.graph.nodeCount + high
  if (low === high || making.seen.has(key) || isAmongLike(making, low, high)) return
  making.seen.add(key)
  if (canBeTaken(making, low, high)) yield* addSolved(making, low, high)
}

export function canBeTaken({ terms }: Making, low: number, high: number): boolean {
  const { network } = terms.book.sighting.prepared
  const { of } = network.metal.islands
  return of[low] === of[high] && isInReach(network, terms.reachable, { a: low, b: high })
}

function isAmongLike({ tables, likePairs, chainNumber }: Making, low: number, high: number): boolean {
  const t = tables.tableOf[low]
  const to = tables.tableOf[high]
  if (likePairs.size === 0 || t < 0 || to < 0 || tables.row[t] !== tables.row[to]) return false
  const key = localPair(low - tables.firstPart[t], high - tables.firstPart[to])
  return likePairs.get(chainNumber(t, to - t))?.has(key) ?? false
}

export function* addSolved(making: Making, low: number, high: number): Generator<number, ShownByPair> {
  const shown = shownByPair(yield* viewOfPair(making.terms.book.sighting, low, high))
  if (shown.edge.length > 0) making.list.add(low, high, shown, making.templates++)
  return shown
}
