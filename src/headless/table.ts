import { displayWidth, padEnd, padStart, wrapText } from './displayWidth.ts'

export interface Column {
  readonly title: string
  /** Numbers stand to the right, words to the left. */
  readonly align?: 'left' | 'right'
}

const gap = '  '
const leastWrapped = 12

/**
 * A table for people: columns in line, two spaces between them, a rule under the titles. Where it would be
 * wider than `width`, the cells of the widest columns of words are wrapped; nothing is left out. Titles that
 * are all empty, and the rule with them, are not printed.
 */
export function formatTable(
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
  width = Infinity,
): string[] {
  const hasTitles = columns.some(({ title }) => title !== '')
  const widths = fitWidths(columns, rows, width)
  const line = (cells: readonly string[]) => joinCells(columns, widths, cells)
  const titles = hasTitles
    ? [...line(columns.map(({ title }) => title)), widths.map((w) => '-'.repeat(w)).join(gap)]
    : []
  return [...titles, ...rows.flatMap(line)]
}

function fitWidths(
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
  width: number,
): number[] {
  const widths = columns.map(({ title }, c) =>
    rows.reduce((most, row) => Math.max(most, displayWidth(row[c])), displayWidth(title)),
  )
  const total = () => widths.reduce((sum, w) => sum + w, gap.length * (widths.length - 1))
  while (total() > width) {
    const widest = widestOfWords(columns, widths)
    if (widest < 0) break
    widths[widest]--
  }
  return widths
}

function widestOfWords(columns: readonly Column[], widths: readonly number[]): number {
  let widest = -1
  columns.forEach(({ align }, c) => {
    if (align === 'right' || widths[c] <= leastWrapped) return
    if (widest < 0 || widths[c] > widths[widest]) widest = c
  })
  return widest
}

function joinCells(
  columns: readonly Column[],
  widths: readonly number[],
  cells: readonly string[],
): string[] {
  const wrapped = cells.map((cell, c) =>
    displayWidth(cell) > widths[c] ? wrapText(cell, widths[c]) : [cell],
  )
  const height = Math.max(...wrapped.map(({ length }) => length))
  return Array.from({ length: height }, (_, k) =>
    wrapped
      .map((lines, c) => (columns[c].align === 'right' ? padStart : padEnd)(lines[k] ?? '', widths[c]))
      .join(gap)
      .trimEnd(),
  )
}
