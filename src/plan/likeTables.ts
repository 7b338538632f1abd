import { inPortions, portion } from '../base/portion.ts'
import { patternOfRun } from '../layout/partIndex.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import type { Network } from '../network/compile.ts'

/** The tables of a site one after the other, row by row, and which of them are alike, surroundings included. */
export interface LikeTables {
  readonly tableCount: number
  /** Tables of row r: rowStart[r] … rowStart[r + 1] − 1. */
  readonly rowStart: Int32Array
  /** By table: its row, its first part, its first joint, and how many of its joints lie one after the other. */
  readonly row: Int32Array
  readonly firstPart: Int32Array
  readonly firstJoint: Int32Array
  readonly jointCount: Int32Array
  /** By part: its table; −1 for equipment. */
  readonly tableOf: Int32Array
  /** By table: number of its class; classes from 0, ascending by their first table. */
  readonly classOf: Int32Array
  readonly classCount: number
}

/** Above so many tables fewer pairs are looked at for each, and what one shows is read off for like ones. */
const manyTables = 500

export function isManyTables({ tableCount }: Pick<LikeTables, 'tableCount'>): boolean {
  return tableCount > manyTables
}

/** Tables are told apart by what lies within so many tables of them. */
const rounds = 3

/**
 * Sorts tables into classes: of one type, with the same joints of the same kinds and ohms, the same joints to neighbours that
 * are of one class themselves, the same kinds of joints to equipment, the same bridges. By colour refinement (Weisfeiler
 * and Leman 1968) with 64-bit sums as colours, three rounds: what is further away does not count, nor does soil.
 * O(rounds · joints).
 */
export function* likeTables(network: Network): Generator<number, LikeTables> {
  const tables = listTables(network.index)
  yield 0.1
  const { tableCount } = tables
  const { runs } = network.index.rows
  let classOf = new Int32Array(tableCount)
  for (let run = 0, t = 0; run < runs.count.length; run++) {
    for (let k = 0; k < runs.count[run]; k++) classOf[t++] = runs.type[run]
  }
  let classCount = 0
  for (let round = 0; round < rounds; round++) {
    const sums = { one: new Int32Array(tableCount), other: new Int32Array(tableCount) }
    const before = classOf
    const add = (first: number, end: number) => addJoints(network, tables, before, sums, first, end)
    yield* portion(inPortions(network.edgeCount, add), 0.1 + (0.9 * round) / rounds, 0.9 / rounds)
    const number = new Map<string, number>()
    classOf = before.map((own, t) => {
      const key = `${own} ${sums.one[t]} ${sums.other[t]}`
      const known = number.get(key)
      if (known !== undefined) return known
      number.set(key, number.size)
      return number.size - 1
    })
    classCount = number.size
  }
  return { ...tables, classOf, classCount }
}

type Tables = Omit<LikeTables, 'classOf' | 'classCount'>

function listTables(index: SiteIndex): Tables {
  const { rows, tableCount, partCount, enclosureStart } = index
  const { runs } = rows
  const rowStart = new Int32Array(rows.tables.length + 1)
  const row = new Int32Array(tableCount)
  const firstPart = new Int32Array(tableCount)
  const firstJoint = new Int32Array(tableCount)
  const jointCount = new Int32Array(tableCount)
  const tableOf = new Int32Array(partCount).fill(-1)
  let t = 0
  for (let run = 0; run < runs.count.length; run++) {
    const pattern = patternOfRun(index, run)
    for (let k = 0; k < runs.count[run]; k++, t++) {
      row[t] = runs.row[run]
      firstPart[t] = runs.partStart[run] + k * pattern.partCount
      firstJoint[t] = runs.jointStart[run] + k * pattern.jointCount
      jointCount[t] = pattern.jointCount
      tableOf.fill(t, firstPart[t], firstPart[t] + pattern.partCount)
    }
    rowStart[runs.row[run] + 1] = t
  }
  tableOf.fill(-1, enclosureStart)
  return { tableCount, rowStart, row, firstPart, firstJoint, jointCount, tableOf }
}

const ohmBits = new DataView(new ArrayBuffer(8))

function hashOf(seed: number, ...words: readonly number[]): number {
  let h = seed
  for (const word of words) {
    h = Math.imul(h ^ word, 0x9e3779b1)
    h ^= h >>> 15
    h = Math.imul(h, 0x85ebca6b)
    h ^= h >>> 13
  }
  return h
}

function addJoints(
  { graph, kind, medianOhm, isEarthPath, metal, partKind }: Network,
  { tableOf, firstPart }: Tables,
  classOf: Int32Array,
  sums: { readonly one: Int32Array; readonly other: Int32Array },
  first: number,
  end: number,
): void {
  const { isBridge } = metal.blocks
  const add = (e: number, here: number, there: number) => {
    const t = here < tableOf.length ? tableOf[here] : -1
    if (t < 0) return
    const local = here - firstPart[t]
    const u = there < tableOf.length ? tableOf[there] : -1
    const toPart = isEarthPath[e] === 1 ? -1 : u < 0 ? -2 - partKind[there] : there - firstPart[u]
    const toClass = u < 0 ? -1 : u === t ? -2 : classOf[u]
    ohmBits.setFloat64(0, isEarthPath[e] === 1 ? 0 : medianOhm[e])
    const words = [
      local,
      toPart,
      toClass,
      Math.sign(u < 0 ? 0 : u - t),
      kind[e],
      isBridge[e],
      ohmBits.getInt32(0),
      ohmBits.getInt32(4),
    ]
    sums.one[t] += hashOf(1, ...words)
    sums.other[t] += hashOf(2, ...words)
  }
  for (let e = first; e < end; e++) {
    add(e, graph.from[e], graph.to[e])
    add(e, graph.to[e], graph.from[e])
  }
}

/**
 * The joints that belong to a table: its own, and the jumpers to the next table of its row, by place; place 0 is its first
 * joint. −1 beyond them.
 */
export function jointAtPlace(index: SiteIndex, tables: LikeTables, table: number, place: number): number {
  const own = tables.jointCount[table]
  if (place < own) return tables.firstJoint[table] + place
  const row = tables.row[table]
  const links = index.drawing.rows[row].links.count
  const gap = table - tables.rowStart[row]
  if (table + 1 >= tables.rowStart[row + 1] || place >= own + links) return -1
  return index.rows.jumperStart[row] + gap * links + (place - own)
}

/** How many joints belong to a table. */
export function placesOf(index: SiteIndex, tables: LikeTables, table: number): number {
  const row = tables.row[table]
  const links = table + 1 < tables.rowStart[row + 1] ? index.drawing.rows[row].links.count : 0
  return tables.jointCount[table] + links
}
