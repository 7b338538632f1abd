import { present } from '../base/assert.ts'
import { portion } from '../base/portion.ts'
import { pairResistance } from '../network/pairResistance.ts'
import { riseOhm } from '../network/jointSweep.ts'
import { carriedEdges, carriedJoints, type CarriedJoints } from './carryOver.ts'
import { isManyTables, likeTables, type LikeTables } from './likeTables.ts'
import type { PartPair } from './ownPairs.ts'
import { viewIn, viewsIn, type SightBook } from './sightBook.ts'
import { addedOhmOf, risesThatShow, type PairView } from './sighting.ts'
import { chainNumbers, localPair } from './tableChains.ts'

/** What a pair of like tables has shown where it was looked at first. */
interface LikeView {
  readonly view: PairView
  /** Null where it feels joints beyond its row. */
  readonly joints: CarriedJoints | null
}

/**
 * The views of these pairs, in their order, one object for each different pair. On a site of many tables one pair of each kind is solved, and what it shows is read
 * off for the others: pairs between the same parts of like tables.
 */
export function* viewsOfLike(
  book: SightBook,
  pairs: readonly PartPair[],
): Generator<number, readonly PairView[]> {
  const { network } = book.sighting.prepared
  if (!isManyTables(network.index)) return yield* viewsIn(book, pairs)
  const tables = yield* portion(likeTables(network), 0, 0.1)
  const chainNumber = chainNumbers(tables)
  const known = new Map<number, Map<number, LikeView>>()
  const views = new Map<number, PairView>()
  const keyOf = ({ a, b }: PartPair) => Math.min(a, b) * network.graph.nodeCount + Math.max(a, b)
  for (const pair of pairs) {
    if (views.has(keyOf(pair))) continue
    const [low, high] = [Math.min(pair.a, pair.b), Math.max(pair.a, pair.b)]
    const done = 0.1 + (0.9 * views.size) / pairs.length
    const solve = () => portion(viewIn(book, pair), done, 0)
    const t = tables.tableOf[low]
    const to = tables.tableOf[high]
    if (low === high || t < 0 || to < 0 || tables.row[t] !== tables.row[to]) {
      views.set(keyOf(pair), yield* solve())
      continue
    }
    const chain = chainNumber(t, to - t)
    const ofChain = known.get(chain) ?? new Map<number, LikeView>()
    known.set(chain, ofChain)
    const key = localPair(low - tables.firstPart[t], high - tables.firstPart[to])
    const like = ofChain.get(key)
    const carried = like && viewAt(book, tables, like, t, low, high)
    const view = carried ?? (yield* solve())
    if (!like) ofChain.set(key, { view, joints: carriedJoints(network, tables, t, view.edge) })
    views.set(keyOf(pair), view)
    if (views.size % 64 === 0) yield done
  }
  return pairs.map((pair) => present(views.get(keyOf(pair)), 'the view of a pair'))
}

/** Shares of the current and scatter are those of the like pair; ohms, and the rises that follow, are the pair's own. */
function viewAt(
  { sighting }: SightBook,
  tables: LikeTables,
  { view, joints }: LikeView,
  t: number,
  a: number,
  b: number,
): PairView | null {
  if (view.a === a && view.b === b) return view
  const { network, loopS } = sighting.prepared
  const carried = joints && carriedEdges(network, tables, joints, t)
  if (!carried) return null
  const { edge, order } = carried
  const { factor } = sighting.source.source
  const beyondOhm = pairResistance(factor, a, b) - pairResistance(factor, view.a, view.b)
  const expectedOhm = view.expectedOhm + (Number.isFinite(beyondOhm) ? beyondOhm : 0)
  const squared = order ? Float64Array.from(order, (k) => view.squared[k]) : view.squared
  const rise = squared.map((share, k) => riseOhm(share, loopS[edge[k]], addedOhmOf(sighting, edge[k])))
  const rises = view.edge.length === 0 ? {} : risesThatShow(view.levelOhm, expectedOhm, view.sdOhm)
  return { ...view, a, b, expectedOhm, ...rises, edge, squared, riseOhm: rise }
}
