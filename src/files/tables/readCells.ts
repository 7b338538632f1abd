import Papa from 'papaparse'
import { fail, ok } from '../../base/result.ts'
import type { Result } from '../../base/result.ts'
import type { Problem } from '../../model/problem.ts'
import { problem } from '../../model/problem.ts'

export const delimiters = [',', ';', '\t', '|'] as const
export type Delimiter = (typeof delimiters)[number]

export interface Line {
  /** Line of the file on which it begins, from 1; a cell in quotation marks may hold line ends. */
  readonly number: number
  readonly cells: readonly string[]
  /** A quotation mark stands where none may. */
  readonly isBroken: boolean
}

export interface Cells {
  readonly delimiter: Delimiter
  readonly header: readonly string[]
  /** Lines with something in them, in the order of the file. */
  readonly lines: readonly Line[]
}

/** Above any plant's list of tables; counted before the cells are taken apart. */
export const mostLines = 200_000
const mostColumns = 200
/** Each mark that stands wrong is remembered while a file is taken apart, so they are counted before. */
const mostQuotes = 2_000_000
const linesAtOnce = 2_000
const guessLines = 20

/**
 * Takes delimited text apart after RFC 4180, also with semicolons, tabs or bars between cells. All ways of ending a line
 * are read as one. Yields the fraction done. O(text).
 */
export function* readCells(
  source: string,
  delimiter: Delimiter | null = null,
): Generator<number, Result<Cells, Problem>> {
  const text = source.replace(/^\ufeff/, '').replace(/\r\n?/g, '\n')
  const found = count(text, '\n') + 1
  if (found > mostLines) return fail(problem('size.tooMany', { what: 'lines', found, most: mostLines }))
  const quotes = count(text, '"')
  if (quotes > mostQuotes) {
    return fail(problem('size.tooMany', { what: 'quotation marks', found: quotes, most: mostQuotes }))
  }
  const used = delimiter ?? guessDelimiter(text)
  const lines: Line[] = []
  let at = 0
  let number = 1
  while (at < text.length) {
    const { data, errors, meta } = parsePart(text.slice(at), used, linesAtOnce)
    const broken = new Set(errors.filter(({ type }) => type === 'Quotes').map(({ row }) => row))
    for (const [k, cells] of data.entries()) {
      if (cells.length > mostColumns) {
        const facts = { what: 'cells in one line', found: cells.length, most: mostColumns }
        return fail(problem('size.tooMany', facts, { line: number }))
      }
      if (cells.some((cell) => cell.trim() !== '')) lines.push({ number, cells, isBroken: broken.has(k) })
      number += 1 + cells.reduce((sum, cell) => sum + count(cell, '\n'), 0)
    }
    if (meta.cursor <= 0) break
    at += meta.cursor
    yield Math.min(at / text.length, 1)
  }
  if (lines.length === 0) return fail(problem('file.empty', {}))
  const [header, ...rest] = lines
  return ok({ delimiter: used, header: header.cells.map((cell) => cell.trim()), lines: rest })
}

function parsePart(text: string, delimiter: string, preview: number): Papa.ParseResult<string[]> {
  // the fast way takes the whole rest of a text apart, and counts one line too many when it stops
  return Papa.parse<string[]>(text, { delimiter, newline: '\n', preview, header: false, fastMode: false })
}

/** The delimiter that cuts the first lines into equally many cells, and the more the better. */
function guessDelimiter(text: string): Delimiter {
  // cut at a line, so that a long file is not copied for a guess
  const head = text.slice(0, 100_000)
  let best: Delimiter = ','
  let mostCells = 1
  for (const delimiter of delimiters) {
    const rows = parsePart(head, delimiter, guessLines).data.filter((cells) =>
      cells.some((cell) => cell !== ''),
    )
    const counts = rows.map((cells) => cells.length)
    const usual = counts[0] ?? 1
    const alike = counts.filter((count) => count === usual).length
    if (usual > mostCells && alike * 2 > counts.length) {
      best = delimiter
      mostCells = usual
    }
  }
  return best
}

function count(text: string, sign: string): number {
  let found = 0
  for (let at = text.indexOf(sign); at >= 0; at = text.indexOf(sign, at + 1)) found++
  return found
}
