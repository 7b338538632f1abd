export type Cell = string | number | boolean | null

/**
 * One line of a table after RFC 4180: commas, CR LF, quotation marks doubled. Numbers keep all their digits;
 * an infinite one is `infinite`, null an empty cell. A word that a spreadsheet would take for a formula (it
 * begins with = + - @ or a tab) gets an apostrophe before it; numbers do not.
 */
export function csvLine(cells: readonly Cell[]): string {
  return `${cells.map(csvCell).join(',')}\r\n`
}

function csvCell(cell: Cell): string {
  if (cell === null) return ''
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell) : 'infinite'
  if (typeof cell === 'boolean') return String(cell)
  const guarded = /^'*[=+\-@\t\r\n]/.test(cell) ? `'${cell}` : cell
  return /[",\r\n]/.test(guarded) ? `"${guarded.replaceAll('"', '""')}"` : guarded
}
