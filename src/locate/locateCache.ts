import { atSoilLevel, type PreparedNetwork } from '../network/prepare.ts'
import { emptyPairBook, openPairBook, type PairBook } from './pairBook.ts'

/**
 * What one ranking leaves for the next on the same network: the network at every soil level, and the currents of
 * the pairs that were read. Found by the prepared network's identity, which is replaced with the drawing. An
 * answer is the same, bit for bit, whatever is in here.
 */
export interface LocateCache {
  readonly books: WeakMap<PreparedNetwork, Map<number, PairBook>>
}

export function emptyLocateCache(): LocateCache {
  return { books: new WeakMap() }
}

/** Of larger networks the other soil levels are not kept: some 200 bytes a joint each. */
const mostKeptJoints = 400_000
/** Shares of current that one book keeps at most: 12 bytes each. */
const mostKeptEntries = 4_000_000

/** The book of a network whose soil is exp(lnSoil) times the stated resistivity. */
export function* bookAt(
  cache: LocateCache,
  prepared: PreparedNetwork,
  lnSoil: number,
): Generator<number, PairBook> {
  let books = cache.books.get(prepared)
  if (!books) {
    books = new Map()
    cache.books.set(prepared, books)
  }
  const known = books.get(lnSoil)
  if (known) {
    if (known.entries > mostKeptEntries) emptyPairBook(known)
    return known
  }
  const book = openPairBook(lnSoil === 0 ? prepared : yield* atSoilLevel(prepared, Math.exp(lnSoil)))
  if (lnSoil === 0 || prepared.network.edgeCount <= mostKeptJoints) books.set(lnSoil, book)
  return book
}
