import { portion } from '../base/portion.ts'
import type { PartPair } from './ownPairs.ts'
import { viewOfPair, type PairView, type Sighting } from './sighting.ts'

/**
 * What pairs show, kept from one question to the next: a pair that is added by hand costs one solve. What is in the book
 * depends on network, kit, lead and severity alone.
 */
export interface SightBook {
  readonly sighting: Sighting
  readonly views: Map<number, PairView>
}

/** Entries of all views that one book keeps at most: 20 bytes each. */
const mostKeptViews = 50_000

export function openSightBook(sighting: Sighting): SightBook {
  return { sighting, views: new Map() }
}

export function* viewIn({ sighting, views }: SightBook, { a, b }: PartPair): Generator<number, PairView> {
  const low = Math.min(a, b)
  const high = Math.max(a, b)
  const key = low * sighting.prepared.network.graph.nodeCount + high
  const known = views.get(key)
  if (known) return known
  const view = yield* viewOfPair(sighting, low, high)
  if (views.size >= mostKeptViews) views.clear()
  views.set(key, view)
  return view
}

/** The views of these pairs, in their order. */
export function* viewsIn(
  book: SightBook,
  pairs: readonly PartPair[],
): Generator<number, readonly PairView[]> {
  const views: PairView[] = []
  for (const pair of pairs) {
    views.push(yield* portion(viewIn(book, pair), views.length / pairs.length, 0))
    yield views.length / pairs.length
  }
  return views
}
