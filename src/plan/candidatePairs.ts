import { portion } from '../base/portion.ts'
import { patternOfRun, partInTable } from '../layout/partIndex.ts'
import { straightM } from '../walk/reach.ts'
import { candidateList, shownByPair, type CandidateList, type ShownByPair } from './candidateList.ts'
import type { Candidates } from './candidates.ts'
import { carriedTo, carriedView, type CarriedView } from './carryOver.ts'
import { isBeyond, type HiddenTerms } from './hidden.ts'
import { jointAtPlace, likeTables, placesOf, type LikeTables } from './likeTables.ts'
import { isAccessible, isInReach, pairsAcross, type PartPair } from './ownPairs.ts'
import { firstOfClass } from './reasons.ts'
import { canGoBad, viewOfPair } from './sighting.ts'

/** With so few accessible parts every pair of them is looked at. */
const mostForAll = 150
/** Above so many tables fewer pairs are proposed for each. */
const manyTables = 500
/** A table with so many points of interest has all pairs among them; one with more has those along their order. */
const mostTogether = 16
/** How many tables further on the other end may be. */
const tablesOn = [1, 2, 3, 4, 6, 8, 12, 16]
const tablesOnOfMany = [1, 2, 4, 8]
/** Rows further on whose tables pairs go across to, and the nearest pieces of equipment that a part is paired with. */
const rowsOn = 2
const nearestEquipment = 3

/**
 * The pairs to choose a plan from. On a small site all that can be taken; else those that the site's structure suggests:
 * across every joint that the kit can show (its own ends or the nearest parts that clips reach), among these points of one
 * table, between tables of a row and of neighbouring rows, from tables to bars and enclosures near them, and
 * among equipment. Tables that are alike share what was solved for the first of them.
 */
export function* candidatesOf(terms: HiddenTerms): Generator<number, Candidates> {
  const { network } = terms.book.sighting.prepared
  const { reachable } = terms
  const parts: number[] = []
  for (let p = 0; p < network.remoteEarth && parts.length <= mostForAll; p++) {
    if (isAccessible(network, reachable, p)) parts.push(p)
  }
  const making: Making = {
    terms,
    tables: yield* portion(likeTables(network), 0, 0.1),
    list: candidateList(),
    seen: new Set(),
    carried: new Map(),
    chains: new Map(),
    templates: 0,
  }
  if (parts.length <= mostForAll) {
    yield* addAll(making, parts)
    return making.list.done(making.templates, true)
  }
  const points = yield* portion(pointsOfClasses(making), 0.1, 0.1)
  yield* portion(addTables(making, points), 0.2, 0.6)
  yield* portion(addAcrossRows(making, points), 0.8, 0.05)
  yield* portion(addEquipment(making, points), 0.85, 0.15)
  return making.list.done(making.templates, false)
}

interface Making {
  readonly terms: HiddenTerms
  readonly tables: LikeTables
  readonly list: CandidateList
  /** Pairs that were looked at, as one number each. */
  readonly seen: Set<number>
  /** What is known of a pair of local parts in a chain of like tables. */
  readonly carried: Map<number, { readonly view: CarriedView | null; readonly template: number }>
  /** Numbers of chains of classes. */
  readonly chains: Map<number, number>
  templates: number
}

function* addAll(making: Making, parts: readonly number[]): Generator<number, void> {
  for (let k = 0; k < parts.length; k++) {
    for (let l = k + 1; l < parts.length; l++) yield* addPair(making, { a: parts[k], b: parts[l] })
    yield k / parts.length
  }
}

/** Looks at a pair and adds it if it can be taken and shows anything. */
function* addPair(making: Making, { a, b }: PartPair): Generator<number, void> {
  if (isNews(making, a, b)) yield* addSolved(making, a, b)
}

function isNews({ terms, seen }: Making, a: number, b: number): boolean {
  const { network } = terms.book.sighting.prepared
  const low = Math.min(a, b)
  const high = Math.max(a, b)
  const key = low * network.graph.nodeCount + high
  if (low === high || seen.has(key)) return false
  seen.add(key)
  const { of } = network.metal.islands
  return of[low] === of[high] && isInReach(network, terms.reachable, { a: low, b: high })
}

function* addSolved(making: Making, a: number, b: number): Generator<number, ShownByPair> {
  const view = yield* viewOfPair(making.terms.book.sighting, Math.min(a, b), Math.max(a, b))
  const shown = shownByPair(view)
  if (shown.edge.length > 0) making.list.add(a, b, shown, making.templates++)
  return shown
}

/**
 * The same for parts of table `t` and of table `t + on` by their numbers in them, with what a like pair elsewhere has shown.
 */
function* addLike(
  making: Making,
  t: number,
  one: number,
  on: number,
  other: number,
): Generator<number, void> {
  const { tables, terms, carried, list } = making
  const { network } = terms.book.sighting.prepared
  const a = tables.firstPart[t] + one
  const b = tables.firstPart[t + on] + other
  if (!isNews(making, a, b)) return
  const key = (chainNumber(making, t, on) * mostLocal + one) * mostLocal + other
  const known = carried.get(key)
  if (known) {
    const shown = known.view && carriedTo(network, tables, known.view, t)
    if (shown && shown.edge.length > 0) list.add(a, b, shown, known.template)
    if (shown) return
  }
  const template = making.templates
  const shown = yield* addSolved(making, a, b)
  if (!known) carried.set(key, { view: carriedView(network, tables, t, shown), template })
}

const mostLocal = 1 << 14

/** One number for the classes of tables t … t + on, the same for every like chain. */
function chainNumber({ tables, chains }: Making, t: number, on: number): number {
  let number = tables.classOf[t]
  for (let k = 1; k <= on; k++) {
    const key = (number + 1) * (tables.classCount + 1) + tables.classOf[t + k]
    let next = chains.get(key)
    if (next === undefined) {
      next = tables.classCount + chains.size
      chains.set(key, next)
    }
    number = next
  }
  return number
}

/** Points of interest in the tables of one class, by their numbers in the table, and pairs across its joints. */
interface PointsOfClass {
  readonly points: readonly number[]
  /** Points from which other tables are read: first and last of all, ends of the outermost long members. */
  readonly outer: readonly number[]
  readonly across: readonly { readonly one: number; readonly on: number; readonly other: number }[]
}

function* pointsOfClasses({ terms, tables }: Making): Generator<number, readonly PointsOfClass[]> {
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

function ends(points: readonly number[]): readonly number[] {
  return points.length === 0 ? [] : [points[0], points[points.length - 1]]
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

function* addTables(making: Making, classes: readonly PointsOfClass[]): Generator<number, void> {
  const { tables } = making
  const on = isMany(tables) ? tablesOnOfMany : tablesOn
  for (let t = 0; t < tables.tableCount; t++) {
    const { points, outer, across } = classes[tables.classOf[t]]
    for (const pair of across) {
      const to = t + pair.on
      if (pair.on >= 0 && isInRow(tables, t, to)) yield* addLike(making, t, pair.one, pair.on, pair.other)
    }
    const step = !isMany(tables) && points.length <= mostTogether ? points.length : 2
    for (let k = 0; k < points.length; k++) {
      for (let l = k + 1; l <= Math.min(points.length - 1, k + step); l++) {
        yield* addLike(making, t, points[k], 0, points[l])
      }
      for (const end of outer) yield* addLike(making, t, points[k], 0, end)
    }
    for (const tablesFurther of on) {
      const to = t + tablesFurther
      if (!isInRow(tables, t, to)) break
      const there = classes[tables.classOf[to]]
      const same = isMany(tables) ? outer : points
      for (const point of same) yield* addLike(making, t, point, tablesFurther, point)
      for (const point of outer) {
        for (const other of there.outer) yield* addLike(making, t, point, tablesFurther, other)
      }
    }
    if (t % 16 === 15) yield t / tables.tableCount
  }
}

function isMany({ tableCount }: LikeTables): boolean {
  return tableCount > manyTables
}

/** Of many tables, two points each are read from other rows and from equipment. */
function fewOf({ tables }: Making, outer: readonly number[]): readonly number[] {
  return isMany(tables) ? ends(outer) : outer
}

function isInRow({ row, tableCount }: LikeTables, t: number, to: number): boolean {
  return to >= 0 && to < tableCount && row[to] === row[t]
}

/** From the tables of a row (of many tables: from its ends) to those nearest to them in the rows after it. */
function* addAcrossRows(making: Making, classes: readonly PointsOfClass[]): Generator<number, void> {
  const { tables, terms } = making
  const { index } = terms.book.sighting.prepared.network
  const rowCount = tables.rowStart.length - 1
  for (let row = 0; row < rowCount; row++) {
    for (const t of tablesFrom(tables, row)) {
      for (let on = 1; on <= rowsOn && row + on < rowCount; on++) {
        const to = nearestTable(index, tables, t, row + on)
        const { outer } = classes[tables.classOf[to]]
        for (const one of fewOf(making, classes[tables.classOf[t]].outer)) {
          for (const other of isMany(tables) ? outer.filter((local) => local === one) : outer) {
            yield* addPair(making, { a: tables.firstPart[t] + one, b: tables.firstPart[to] + other })
          }
        }
      }
    }
    yield row / rowCount
  }
}

function tablesFrom({ rowStart, tableCount }: LikeTables, row: number): readonly number[] {
  const first = rowStart[row]
  const last = rowStart[row + 1] - 1
  if (last - first > 1 && tableCount > manyTables) return [first, last]
  return Array.from({ length: last - first + 1 }, (_, k) => first + k)
}

function nearestTable(
  index: Parameters<typeof straightM>[0],
  { rowStart, firstPart }: LikeTables,
  t: number,
  row: number,
): number {
  let low = rowStart[row]
  let nearestM = Infinity
  for (let u = rowStart[row]; u < rowStart[row + 1]; u++) {
    const apartM = straightM(index, firstPart[t], firstPart[u])
    if (apartM < nearestM) {
      nearestM = apartM
      low = u
    }
  }
  return low
}

/** Across the joints of equipment, among its nearest parts, and from it to tables near it. */
function* addEquipment(making: Making, classes: readonly PointsOfClass[]): Generator<number, void> {
  const { terms, tables } = making
  const { sighting } = terms.book
  const { network } = sighting.prepared
  const { index } = network
  for (let joint = index.conductorJointStart; joint < index.jointCount; joint++) {
    const edge = network.edgeOfJoint[joint]
    if (edge < 0 || !canGoBad(network, edge) || isBeyond(sighting, edge)) continue
    for (const pair of pairsAcross(network, terms.reachable, edge)) yield* addPair(making, pair)
    if (joint % 16 === 0) yield 0.4
  }
  const equipment: number[] = []
  for (let part = index.enclosureStart; part < index.partCount; part++) {
    if (isAccessible(network, terms.reachable, part)) equipment.push(part)
  }
  for (const part of equipment) {
    const near = nearestTo(making, part, equipment, nearestEquipment)
    for (const other of near) yield* addPair(making, { a: part, b: other })
    if (part >= index.electrodeStart) continue
    for (const t of tablesNear(making, part)) {
      for (const local of fewOf(making, classes[tables.classOf[t]].outer)) {
        yield* addPair(making, { a: part, b: tables.firstPart[t] + local })
      }
    }
    yield 0.7
  }
}

function nearestTo(
  { terms }: Making,
  part: number,
  among: readonly number[],
  most: number,
): readonly number[] {
  const { index } = terms.book.sighting.prepared.network
  return among
    .filter((other) => other !== part)
    .map((other) => ({ other, apartM: straightM(index, part, other) }))
    .filter(({ apartM }) => apartM <= terms.reachable.reachM)
    .sort((x, y) => x.apartM - y.apartM || x.other - y.other)
    .slice(0, most)
    .map(({ other }) => other)
}

/** Tables in reach of a piece of equipment; of many tables only those at the ends of rows. */
function tablesNear({ terms, tables }: Making, part: number): readonly number[] {
  const { index } = terms.book.sighting.prepared.network
  const near: number[] = []
  for (let row = 0; row + 1 < tables.rowStart.length; row++) {
    for (const t of tablesFrom(tables, row)) {
      if (straightM(index, part, tables.firstPart[t]) <= terms.reachable.reachM) near.push(t)
    }
  }
  return near
}
