import type { Row } from '../model/schema/row.ts'
import { idLookup, lastAtMost } from './idLookup.ts'
import type { IdLookup } from './idLookup.ts'
import type { TablePattern } from './pattern.ts'

/**
 * Offsets of rows and of runs (of all rows, one after the other). Row r has the runs runStart[r] …
 * runStart[r + 1] − 1; its joints are those of its tables, up to jumperStart[r], then its jumpers.
 */
export interface RowIndex {
  readonly ids: IdLookup
  readonly runStart: Int32Array
  readonly partStart: Int32Array
  readonly jointStart: Int32Array
  readonly jumperStart: Int32Array
  /** Number of tables in each row, and length of the row in metres. */
  readonly tables: Int32Array
  readonly lengthM: Float64Array
  readonly tableCount: number
  readonly partEnd: number
  readonly jointEnd: number
  readonly runs: RunIndex
}

export interface RunIndex {
  readonly row: Int32Array
  /** Number of the table type in the drawing. */
  readonly type: Int32Array
  readonly firstTable: Int32Array
  readonly count: Int32Array
  /** Place of the run's first table in its row, from 0. */
  readonly ordinal: Int32Array
  readonly partStart: Int32Array
  readonly jointStart: Int32Array
  /** Where the run's first table begins along the row. */
  readonly alongM: Float64Array
  /** The runs of each row by ascending table id: tables put in later stand out of id order. */
  readonly byTable: Int32Array
  /** firstTable[byTable[k]], so that a search reads one array. */
  readonly byTableFirst: Int32Array
}

/** O(rows + runs log runs). */
export function indexRows(
  rows: readonly Row[],
  typeNumber: ReadonlyMap<string, number>,
  patterns: readonly (TablePattern | null)[],
): RowIndex {
  const n = rows.length
  const runCount = rows.reduce((sum, { runs }) => sum + runs.length, 0)
  const runStart = new Int32Array(n + 1)
  const partStart = new Int32Array(n + 1)
  const jointStart = new Int32Array(n + 1)
  const jumperStart = new Int32Array(n)
  const tables = new Int32Array(n)
  const lengthM = new Float64Array(n)
  const runs = emptyRuns(runCount)
  let k = 0
  let parts = 0
  let joints = 0
  let tableCount = 0
  for (let r = 0; r < n; r++) {
    const row = rows[r]
    for (const { firstTable, count, type } of row.runs) {
      const pattern = patterns[typeNumber.get(type)!]!
      runs.row[k] = r
      runs.type[k] = typeNumber.get(type)!
      runs.firstTable[k] = firstTable
      runs.count[k] = count
      runs.ordinal[k] = tables[r]
      runs.partStart[k] = parts
      runs.jointStart[k] = joints
      runs.alongM[k++] = lengthM[r]
      tables[r] += count
      parts += count * pattern.partCount
      joints += count * pattern.jointCount
      lengthM[r] += count * (pattern.size.alongM + row.gapM)
    }
    lengthM[r] -= row.gapM
    tableCount += tables[r]
    jumperStart[r] = joints
    joints += (tables[r] - 1) * row.links.count
    runStart[r + 1] = k
    partStart[r + 1] = parts
    jointStart[r + 1] = joints
    runs.byTable.subarray(runStart[r], k).sort((a, b) => runs.firstTable[a] - runs.firstTable[b])
  }
  for (let i = 0; i < runCount; i++) runs.byTableFirst[i] = runs.firstTable[runs.byTable[i]]
  const ids = idLookup(Int32Array.from(rows, ({ id }) => id))
  return {
    ids,
    runStart,
    partStart,
    jointStart,
    jumperStart,
    tables,
    lengthM,
    tableCount,
    partEnd: parts,
    jointEnd: joints,
    runs,
  }
}

function emptyRuns(count: number): RunIndex {
  return {
    row: new Int32Array(count),
    type: new Int32Array(count),
    firstTable: new Int32Array(count),
    count: new Int32Array(count),
    ordinal: new Int32Array(count),
    partStart: new Int32Array(count),
    jointStart: new Int32Array(count),
    alongM: new Float64Array(count),
    byTable: Int32Array.from({ length: count }, (_, k) => k),
    byTableFirst: new Int32Array(count),
  }
}

/** A table: its run, and its place in the run from 0. */
export interface TableSpot {
  readonly run: number
  readonly place: number
}

/** The table with this id in row number `row`; null where there is none. O(log runs). */
export function tableById(index: RowIndex, row: number, tableId: number): TableSpot | null {
  const { runStart, runs } = index
  const at = lastAtMost(runs.byTableFirst, tableId, runStart[row], runStart[row + 1])
  if (at < runStart[row]) return null
  const run = runs.byTable[at]
  const place = tableId - runs.firstTable[run]
  return place < runs.count[run] ? { run, place } : null
}

/** The table at a place in row number `row`, counted from 0. O(log runs). */
export function tableByOrdinal(index: RowIndex, row: number, ordinal: number): TableSpot {
  const { runStart, runs } = index
  const run = lastAtMost(runs.ordinal, ordinal, runStart[row], runStart[row + 1])
  return { run, place: ordinal - runs.ordinal[run] }
}

/** Place of a table in its row, counted from 0. */
export function ordinalOf(index: RowIndex, { run, place }: TableSpot): number {
  return index.runs.ordinal[run] + place
}

export function tableIdAt(index: RowIndex, { run, place }: TableSpot): number {
  return index.runs.firstTable[run] + place
}
