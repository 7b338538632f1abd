import type { Row, TableRun } from '../schema/row.ts'

interface RunIndex {
  /** Indices of the runs, in the order of their first table's id. */
  readonly byFirstTable: Uint32Array
  /** Tables in the row before run k; one more entry at the end holds the number of tables. */
  readonly tablesBefore: Float64Array
}

const known = new WeakMap<readonly TableRun[], RunIndex>()

function runIndex(runs: readonly TableRun[]): RunIndex {
  let index = known.get(runs)
  if (!index) {
    const byFirstTable = Uint32Array.from(runs.keys()).sort((a, b) => runs[a].firstTable - runs[b].firstTable)
    const tablesBefore = new Float64Array(runs.length + 1)
    runs.forEach((run, k) => (tablesBefore[k + 1] = tablesBefore[k] + run.count))
    index = { byFirstTable, tablesBefore }
    known.set(runs, index)
  }
  return index
}

/** Number of items for which `isBefore` holds, when it holds for a leading stretch only. */
function countLeading(length: number, isBefore: (k: number) => boolean): number {
  let low = 0
  let high = length
  while (low < high) {
    const middle = (low + high) >>> 1
    if (isBefore(middle)) low = middle + 1
    else high = middle
  }
  return low
}

export interface PlacedTable {
  readonly table: number
  /** 0 for the first table of the row. */
  readonly position: number
  readonly run: number
  readonly type: string
}

/** Number of tables in a row, in O(1) after the first call for these runs. */
export function tableCount(row: Row): number {
  return runIndex(row.runs).tablesBefore[row.runs.length]
}

/**
 * Where the table with this id stands in its row; null where the row has no such table. Ids count up inside
 * a run but not from run to run (a table inserted later has a higher id), so the runs are searched in the
 * order of their first id: O(log runs), no list of tables.
 */
export function findTable(row: Row, table: number): PlacedTable | null {
  const { byFirstTable, tablesBefore } = runIndex(row.runs)
  const after = countLeading(byFirstTable.length, (k) => row.runs[byFirstTable[k]].firstTable <= table)
  if (after === 0) return null
  const run = byFirstTable[after - 1]
  const { firstTable, count, type } = row.runs[run]
  const within = table - firstTable
  return within < count ? { table, position: tablesBefore[run] + within, run, type } : null
}

/** The table at a position (0 for the first), or null beyond the ends of the row. */
export function tableAt(row: Row, position: number): PlacedTable | null {
  const { tablesBefore } = runIndex(row.runs)
  if (!Number.isInteger(position) || position < 0 || position >= tablesBefore[row.runs.length]) return null
  const run = countLeading(row.runs.length, (k) => tablesBefore[k + 1] <= position)
  const table = row.runs[run].firstTable + (position - tablesBefore[run])
  return { table, position, run, type: row.runs[run].type }
}
