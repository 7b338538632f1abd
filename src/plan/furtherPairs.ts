import { portion } from '../base/portion.ts'
import { straightM } from '../walk/reach.ts'
import { addPair, type Making } from './candidateMaking.ts'
import { isBeyond } from './hidden.ts'
import type { LikeTables } from './likeTables.ts'
import { isAccessible, pairsAcross } from './ownPairs.ts'
import { canGoBad } from './sighting.ts'
import { ends, type PointsOfClass } from './tablePairs.ts'

/** Rows further on whose tables pairs go across to, and the nearest pieces of equipment that a part is paired with. */
const rowsOn = 2
const nearestEquipment = 3

/** With so few tables every one of a row is paired with the rows after it, and between all its outer points. */
const fewTables = 40

/**
 * From tables of a row to those nearest to them in the rows after it. On larger sites from the ends of rows alone and between
 * the same points: such pairs tie rows together, and what is tied together cannot be chosen for apart (`choose/nearFirst.ts`).
 */
export function* addAcrossRows(making: Making, classes: readonly PointsOfClass[]): Generator<number, void> {
  const { tables, terms } = making
  const { index } = terms.book.sighting.prepared.network
  const rowCount = tables.rowStart.length - 1
  const isSmall = tables.tableCount <= fewTables
  for (let row = 0; row < rowCount; row++) {
    for (const t of isSmall ? tablesOf(tables, row) : ends(tablesOf(tables, row))) {
      for (let on = 1; on <= rowsOn && row + on < rowCount; on++) {
        const to = nearestTable(index, tables, t, row + on)
        const own = classes[tables.classOf[t]].outer
        const { outer } = classes[tables.classOf[to]]
        for (const one of isSmall ? own : ends(own)) {
          for (const other of isSmall ? outer : outer.filter((local) => local === one)) {
            const pair = { a: tables.firstPart[t] + one, b: tables.firstPart[to] + other }
            yield* portion(addPair(making, pair), row / rowCount, 0)
          }
        }
      }
    }
    yield row / rowCount
  }
}

function tablesOf({ rowStart }: LikeTables, row: number): readonly number[] {
  return Array.from({ length: rowStart[row + 1] - rowStart[row] }, (_, k) => rowStart[row] + k)
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
export function* addEquipment(making: Making, classes: readonly PointsOfClass[]): Generator<number, void> {
  const { terms, tables } = making
  const { sighting } = terms.book
  const { network } = sighting.prepared
  const { index } = network
  for (let joint = index.conductorJointStart; joint < index.jointCount; joint++) {
    const edge = network.edgeOfJoint[joint]
    if (edge < 0 || !canGoBad(network, edge) || isBeyond(sighting, edge)) continue
    const done = (0.6 * (joint - index.conductorJointStart)) / (index.jointCount - index.conductorJointStart)
    for (const pair of pairsAcross(network, terms.reachable, edge)) {
      yield* portion(addPair(making, pair), done, 0)
    }
    if (joint % 16 === 0) yield done
  }
  const equipment: number[] = []
  for (let part = index.enclosureStart; part < index.partCount; part++) {
    if (isAccessible(network, terms.reachable, part)) equipment.push(part)
  }
  for (const [k, part] of equipment.entries()) {
    const done = 0.6 + (0.4 * k) / equipment.length
    const others = [...nearestTo(making, part, equipment, nearestEquipment)]
    if (part < index.electrodeStart) {
      for (const t of tablesNear(making, part)) {
        const { outer } = classes[tables.classOf[t]]
        const local = tables.tableCount <= fewTables ? outer : ends(outer)
        others.push(...local.map((one) => tables.firstPart[t] + one))
      }
    }
    for (const other of others) yield* portion(addPair(making, { a: part, b: other }), done, 0)
    yield done
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

/** Tables in reach of a piece of equipment, on larger sites those at the ends of rows. */
function tablesNear({ terms, tables }: Making, part: number): readonly number[] {
  const { index } = terms.book.sighting.prepared.network
  const near: number[] = []
  for (let row = 0; row + 1 < tables.rowStart.length; row++) {
    const own = tablesOf(tables, row)
    for (const t of tables.tableCount <= fewTables ? own : ends(own)) {
      if (straightM(index, part, tables.firstPart[t]) <= terms.reachable.reachM) near.push(t)
    }
  }
  return near
}
