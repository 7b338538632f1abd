import type { TableRun } from './schema/row.ts'

/** Runs with neighbours put together where type and ids go on; empty ones left out. */
export function joinRuns(runs: readonly TableRun[]): readonly TableRun[] {
  const joined: TableRun[] = []
  for (const run of runs) {
    const last = joined.at(-1)
    if (run.count === 0) continue
    if (last && last.type === run.type && last.firstTable + last.count === run.firstTable) {
      joined[joined.length - 1] = { ...last, count: last.count + run.count }
    } else {
      joined.push(run)
    }
  }
  return joined
}

/** The runs before and after a place between two tables of a row; a run across the place is cut. */
export function splitRuns(runs: readonly TableRun[], tablesBefore: number): [TableRun[], TableRun[]] {
  const before: TableRun[] = []
  const after: TableRun[] = []
  let left = tablesBefore
  for (const run of runs) {
    const taken = Math.min(left, run.count)
    left -= taken
    if (taken > 0) before.push({ ...run, count: taken })
    if (taken < run.count)
      after.push({ ...run, firstTable: run.firstTable + taken, count: run.count - taken })
  }
  return [before, after]
}

/** The same tables in the same order, numbered from 1. */
export function numberedAfresh(runs: readonly TableRun[]): readonly TableRun[] {
  let firstTable = 1
  const numbered = runs.map(({ count, type }) => {
    const run = { firstTable, count, type }
    firstTable += count
    return run
  })
  return joinRuns(numbered)
}
