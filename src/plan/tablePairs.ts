import { portion } from '../base/portion.ts'
import { patternOfRun, partInTable } from '../layout/partIndex.ts'
import { addSolved, canBeTaken, type LikePair, type LikePairs, type Making } from './candidateMaking.ts'
import { carriedEdges, carriedJoints } from './carryOver.ts'
import type { ShownByPair } from './candidateList.ts'
import { isBeyond, type HiddenTerms } from './hidden.ts'
import { isManyTables, jointAtPlace, placesOf, type LikeTables } from './likeTables.ts'
import { isAccessible, pairsAcross } from './ownPairs.ts'
import { firstOfClass } from './reasons.ts'
import { canGoBad } from './sighting.ts'
import { localPair } from './tableChains.ts'

/** A table with so many points of interest has all pairs among them; one with more has those along their order. */
const mostTogether = 16
/** How many tables further on the other end may be. */
const tablesOn = [1, 2, 3, 4, 6, 8, 12, 16]
const tablesOnOfMany = [1, 2, 4, 8]

/** Points of interest in the tables of one class, by their numbers in the table, and pairs across its joints. */
export interface PointsOfClass {
  readonly points: readonly number[]
  /** Points from which other tables are read: first and last of all, ends of the outermost long members. */
  readonly outer: readonly number[]
  readonly across: readonly { readonly one: number; readonly on: number; readonly other: number }[]
}

export function* pointsOfClasses({ terms, tables }: Making): Generator<number, readonly PointsOfClass[]> {
  const { sighting } = terms.book
  const { network } = sighting.prepared
  const { index } = network
  const classes: PointsOfClass[] = []
  for (const t of firstOfClass(tables)) {
    const points = new Set<number>()
    const across: PointsOfClass['across'][number][] = []
    for (let place = 0; place < placesOf(index, tables, t); place++) {
      const edge = network.edgeOfJoint[jointAtPlace(index, tables, t, place)]
      if (edge < 0 || !canGoBad(network, edge) || isBeyond(sighting, edge)) continue
      for (const { a, b } of pairsAcross(network, terms.reachable, edge)) {
        const from = tables.tableOf[a]
        const to = tables.tableOf[b]
        if (from === t) points.add(a - tables.firstPart[t])
        if (to === t) points.add(b - tables.firstPart[t])
        if (from < 0 || to < 0 || tables.row[from] !== tables.row[to]) continue
        if (from !== t && to !== t) continue
        across.push({ one: a - tables.firstPart[from], on: to - from, other: b - tables.firstPart[to] })
      }
    }
    const ascending = [...points].sort((x, y) => x - y)
    const accessible = outerParts(terms, tables, t)
    classes.push({ points: ascending, outer: [...new Set([...accessible, ...ends(ascending)])], across })
    yield classes.length / tables.classCount
  }
  return classes
}

/** First and last; one of one. */
export function ends(points: readonly number[]): readonly number[] {
  return points.length < 2 ? points : [points[0], points[points.length - 1]]
}

/** Ends of the lowest and of the highest long member that a clip reaches, by their numbers in the table. */
function outerParts({ book, reachable }: HiddenTerms, tables: LikeTables, t: number): readonly number[] {
  const { network } = book.sighting.prepared
  const { run } = partInTable(network.index, tables.firstPart[t])
  const { longStart, across, members } = patternOfRun(network.index, run)
  if (members === 0) return []
  const highest = longStart + (members - 1) * (across + 1)
  const four = [longStart, longStart + across, highest, highest + across]
  return four.filter((local) => isAccessible(network, reachable, tables.firstPart[t] + local))
}

/** Pairs in each table and between tables of a row; what a pair of like tables has shown is read off for the others. */
export function* addTables(making: Making, classes: readonly PointsOfClass[]): Generator<number, void> {
  const { tables, chainNumber, likePairs } = making
  const further = new Set(isManyTables(tables) ? tablesOnOfMany : tablesOn)
  for (const { across } of classes) for (const { on } of across) further.add(on)
  further.add(0)
  const ons = [...further].filter((on) => on >= 0).sort((x, y) => x - y)
  for (let t = 0; t < tables.tableCount; t++) {
    const done = t / tables.tableCount
    for (const on of ons) {
      if (t + on >= tables.tableCount || tables.row[t + on] !== tables.row[t]) break
      const chain = chainNumber(t, on)
      const known = likePairs.get(chain)
      const pairs = known ?? pairsOfChain(tables, classes, t, on)
      if (!known) likePairs.set(chain, pairs)
      for (const pair of pairs.values()) yield* portion(addLike(making, t, on, pair), done, 0)
    }
    if (t % 16 === 15) yield done
  }
}

/** Pairs from table `t` to table `t + on`, or within it; the same for every like chain. */
function pairsOfChain(
  tables: LikeTables,
  classes: readonly PointsOfClass[],
  t: number,
  on: number,
): LikePairs {
  const pairs = new Map<number, LikePair>()
  const add = (one: number, other: number) => {
    if (on === 0 && one > other) [one, other] = [other, one]
    if (on > 0 || one !== other) pairs.set(localPair(one, other), { one, other, known: null })
  }
  const { points, outer, across } = classes[tables.classOf[t]]
  for (const pair of across) if (pair.on === on) add(pair.one, pair.other)
  if (on === 0) {
    const step = !isManyTables(tables) && points.length <= mostTogether ? points.length : 2
    points.forEach((point, k) => {
      for (const other of points.slice(k + 1, k + 1 + step)) add(point, other)
      for (const end of outer) add(point, end)
    })
  } else if ((isManyTables(tables) ? tablesOnOfMany : tablesOn).includes(on)) {
    for (const point of isManyTables(tables) ? outer : points) add(point, point)
    for (const point of outer) for (const other of classes[tables.classOf[t + on]].outer) add(point, other)
  }
  return pairs
}

/** A pair of table `t` and table `t + on`, with what the like pair elsewhere has shown. */
function* addLike(making: Making, t: number, on: number, pair: LikePair): Generator<number, void> {
  const { tables, terms, list } = making
  const { network } = terms.book.sighting.prepared
  const { known } = pair
  if (known?.joints && known.shown.edge.length === 0) return
  const low = tables.firstPart[t] + pair.one
  const high = tables.firstPart[t + on] + pair.other
  if (!canBeTaken(making, low, high)) return
  const carried = known?.joints ? carriedEdges(network, tables, known.joints, t) : null
  if (known && carried) {
    list.add(low, high, inOrder(known.shown, carried), known.template)
    return
  }
  const template = making.templates
  const shown = yield* addSolved(making, low, high)
  if (!known) pair.known = { shown, template, joints: carriedJoints(network, tables, t, shown.edge) }
}

function inOrder(
  shown: ShownByPair,
  { edge, order }: { readonly edge: Int32Array; readonly order: Int32Array | null },
): ShownByPair {
  return {
    ...shown,
    edge,
    squared: order ? Float32Array.from(order, (k) => shown.squared[k]) : shown.squared,
  }
}
