import { portion } from '../base/portion.ts'
import type { Site } from '../model/schema/site.ts'
import { atSoilLevel, type PreparedNetwork } from '../network/prepare.ts'
import { emptyPairBook, openPairBook, type PairBook } from './pairBook.ts'
import type { Showable } from './showable.ts'

/**
 * What one ranking leaves for the next on the same network: the network at every soil level, and the currents of
 * the pairs that were read. Found by the prepared network's identity, which is replaced with the drawing. An
 * answer is the same, bit for bit, whatever is in here.
 */
export interface LocateCache {
  readonly networks: WeakMap<PreparedNetwork, KeptNetwork>
}

export interface KeptNetwork {
  /** By ln of the soil factor. */
  readonly books: Map<number, PairBook>
  /** What the instruments of the last ranking can show. */
  showable: Showable | null
  /** What was made of a site's readings (`posterior.ts` alone knows what that is); gone with the site. */
  readonly posteriors: WeakMap<Site, unknown>
}

export function emptyLocateCache(): LocateCache {
  return { networks: new WeakMap() }
}

/** Shares of current that one book keeps at most: 20 bytes each. */
const mostKeptEntries = 4_000_000

export function keptOf(cache: LocateCache, prepared: PreparedNetwork): KeptNetwork {
  let kept = cache.networks.get(prepared)
  if (!kept) {
    kept = { books: new Map(), showable: null, posteriors: new WeakMap() }
    cache.networks.set(prepared, kept)
  }
  return kept
}

/**
 * The book of a network whose soil is exp(lnSoil) times the stated resistivity. It is kept with the factor at that
 * level: some 30 bytes a joint, for a further reading to cost a solve and not a factorisation.
 */
export function* bookAt(
  cache: LocateCache,
  prepared: PreparedNetwork,
  lnSoil: number,
): Generator<number, PairBook> {
  const { books } = keptOf(cache, prepared)
  const known = books.get(lnSoil)
  if (known) {
    if (known.entries > mostKeptEntries) emptyPairBook(known)
    return known
  }
  const at = lnSoil === 0 ? prepared : yield* portion(atSoilLevel(prepared, Math.exp(lnSoil)), 0, 0.8)
  const book = yield* portion(openPairBook(at, Math.exp(lnSoil), books.get(0) ?? null), 0.8, 0.2)
  books.set(lnSoil, book)
  return book
}
