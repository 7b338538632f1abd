import { limits } from '../limits.ts'
import { problem } from '../problem.ts'
import { byId } from '../queries/byId.ts'
import { findTable, tableCount } from '../queries/tablePosition.ts'
import type { Row } from '../schema/row.ts'
import type { Findings, Path } from './findings.ts'
import { addWrong, checkKind } from './findings.ts'

/** Runs of one row must not share a table id. Sorted by first id, a shared one lies between neighbours. */
function checkTableIds(findings: Findings, row: Row, path: Path): void {
  const order = [...row.runs.keys()].sort((a, b) => row.runs[a].firstTable - row.runs[b].firstTable)
  let next = 0
  for (const k of order) {
    const { firstTable, count } = row.runs[k]
    const where = { path: [...path, k, 'firstTable'] }
    if (firstTable < next) {
      const facts = { what: 'table', id: `R${row.id}/T${firstTable}` }
      addWrong(findings, problem('reference.duplicateId', facts, where))
    }
    next = Math.max(next, firstTable + count)
    const last = firstTable + count - 1
    if (last >= row.nextTable) {
      const facts = { what: 'table', id: last, next: row.nextTable }
      addWrong(findings, problem('reference.idNotCounted', facts, where))
    }
  }
}

export function checkRow(findings: Findings, row: Row, path: Path): void {
  const types = byId(findings.drawing.tableTypes)
  row.runs.forEach((run, k) => {
    if (types.has(run.type)) return
    const facts = { what: 'table type', name: run.type }
    addWrong(findings, problem('reference.unknownName', facts, { path: [...path, 'runs', k, 'type'] }))
  })
  checkTableIds(findings, row, [...path, 'runs'])
  const found = tableCount(row)
  if (found > limits.tablesPerRow) {
    const facts = { what: 'tables', found, most: limits.tablesPerRow }
    addWrong(findings, problem('size.tooMany', facts, { path: [...path, 'runs'] }))
  }
  if (row.links.count > 0) checkKind(findings, row.links.kind, [...path, 'links', 'kind'])
  for (const table of Object.keys(row.tableLabels)) {
    if (findTable(row, Number(table))) continue
    const facts = { what: 'table', name: `R${row.id}/T${table}` }
    addWrong(findings, problem('reference.unknownName', facts, { path: [...path, 'tableLabels', table] }))
  }
}
