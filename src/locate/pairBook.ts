import { present } from '../base/assert.ts'
import { portion } from '../base/portion.ts'
import type { SoilLevel } from '../network/prepare.ts'
import {
  followPair,
  openPairSource,
  takeWork,
  type PairReach,
  type PairSource,
  type ReadPair,
} from '../reading/pairReach.ts'
import { carriedScatter, type CarriedScatter } from './carriedScatter.ts'

/** A pair of a book, and what it shares with the pairs before it. */
export interface PairRow extends PairReach {
  readonly number: number
  /** Covariance with every pair up to itself by number, in ohm². */
  readonly covariance: Float64Array
  /** What it is held against others by. */
  readonly carried: CarriedScatter
}

/**
 * The pairs of one network that readings were taken between. A row depends on its own pair alone, a covariance on
 * its two pairs alone, and neither on what else is in the book or when it came in: sums go over the joints in an
 * order that only the pair decides. So that what was worked out for earlier readings serves the next ones, bit for bit.
 */
export interface PairBook extends PairSource {
  readonly rows: Map<string, PairRow>
  readonly inOrder: PairRow[]
  /** Entries of all rows, to bound what is kept. */
  entries: number
}

/** A book without pairs, at a soil level (`openPairSource`). */
export function* openPairBook(
  level: SoilLevel,
  soilFactor: number,
  beside: PairBook | null = null,
): Generator<number, PairBook> {
  const source = yield* openPairSource(level, soilFactor, beside)
  return { ...source, rows: new Map(), inOrder: [], entries: 0 }
}

/** Forgets all rows; what was handed out stays whole. */
export function emptyPairBook(book: PairBook): void {
  book.rows.clear()
  book.inOrder.length = 0
  book.entries = 0
}

const keyOf = (a: number, b: number, around: number) =>
  `${Math.min(a, b)} ${Math.max(a, b)}${around < 0 ? '' : ` round ${around}`}`

/** The rows of these pairs, in their order; those that are not in the book yet are solved and entered. */
export function* rowsOfPairs(
  book: PairBook,
  pairs: readonly ReadPair[],
): Generator<number, readonly PairRow[]> {
  const rows: PairRow[] = []
  for (const { a, b, around = -1 } of pairs) {
    const key = keyOf(a, b, around)
    if (!book.rows.has(key)) {
      const pair = { a: Math.min(a, b), b: Math.max(a, b), around }
      const reach = yield* portion(followPair(book, pair), rows.length / pairs.length, 0)
      // meanwhile another ranking on the same book may have entered the pair
      if (!book.rows.has(key)) enter(book, key, reach)
      yield (rows.length + 1) / pairs.length
    }
    rows.push(present(book.rows.get(key), 'the pair was just entered'))
  }
  return rows
}

export function covarianceOf(one: PairRow, other: PairRow): number {
  return one.number > other.number ? one.covariance[other.number] : other.covariance[one.number]
}

/**
 * Enters a pair with its covariance with each earlier pair q: Σ i_p² i_q² Var s over joints + Σ_kind (level sd)²
 * (Σ i_p² r)(Σ i_q² r), earth paths without a level of their own. O(what carries the scatter of all rows).
 */
function enter(book: PairBook, key: string, reach: PairReach): void {
  const { inOrder } = book
  const work = takeWork(book)
  const { dense } = work
  const carried = carriedScatter(reach)
  const covariance = new Float64Array(inOrder.length + 1)
  const row: PairRow = { ...reach, number: inOrder.length, covariance, carried }
  const { edge, share } = carried
  for (let k = 0; k < edge.length; k++) dense[edge[k]] = share[k]
  for (const other of inOrder)
    covariance[other.number] = scatterShared(dense, other) + levelShared(row, other)
  for (let k = 0; k < edge.length; k++) dense[edge[k]] = 0
  covariance[row.number] = carried.ofAllOhm2 + levelShared(row, row)
  book.spare.push(work)
  book.rows.set(key, row)
  inOrder.push(row)
  book.entries += reach.edge.length
}

/** `dense` has the shares of the one pair by joint; the other brings the list of its own. */
function scatterShared(dense: Float64Array, { carried: { edge, share, varianceOhm2 } }: PairRow): number {
  let sum = 0
  for (let k = 0; k < edge.length; k++) {
    const other = dense[edge[k]]
    if (other !== 0) sum += varianceOhm2[k] * (other * share[k])
  }
  return sum
}

function levelShared(one: PairRow, other: PairRow): number {
  let sum = 0
  for (let kind = 0; kind < one.byKind.length; kind++) sum += one.byKind[kind] * other.byKind[kind]
  return sum
}
