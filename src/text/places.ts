import { byId } from '../model/queries/byId.ts'
import { findTable } from '../model/queries/tablePosition.ts'
import type { Drawing } from '../model/schema/drawing.ts'
import { ordinal } from './units.ts'
import { printable } from './where.ts'
import { wordsFor, type Words } from './words.ts'

/** What names are looked up in. Cheap to make; look-ups are kept by the identity of the drawing's lists. */
export interface NameBook {
  readonly drawing: Drawing
  readonly words: Words
}

export function openNameBook(drawing: Drawing): NameBook {
  return { drawing, words: wordsFor(drawing.facts.units) }
}

/** `row 3`, `row N2` where a label is painted on, the label itself where it says row already. */
export function nameRow(book: NameBook, row: number): string {
  return labelled('row', byId(book.drawing.rows).get(row)?.label ?? '', String(row))
}

/**
 * `table 7`; the painted label where there is one. Ids are never reused, so that after an insertion they no
 * longer count along the row: then the place in the row is said too.
 */
export function nameTable(book: NameBook, row: number, table: number): string {
  const drawn = byId(book.drawing.rows).get(row)
  const label = drawn?.tableLabels[String(table)] ?? ''
  if (label.trim() !== '') return labelled('table', label, '')
  const placed = drawn && findTable(drawn, table)
  if (!placed || placed.position + 1 === table) return `table ${table}`
  return `table ${table} (${ordinal(placed.position + 1)} in its row)`
}

/** A label as it is painted, or the word with a number: never a bare number, which nobody could look up. */
export function labelled(word: string, label: string, number: string): string {
  const painted = printable(label).trim()
  if (painted === '') return `${word} ${number}`
  if (painted.toLowerCase().startsWith(word)) return painted
  return /^[\p{L}\p{N}][\p{L}\p{N}._/-]*$/u.test(painted) ? `${word} ${painted}` : `${word} “${painted}”`
}

/** Where a station is, in modules counted along the table; the first and last are the member's ends. */
export function nameStation(station: number, across: number | undefined): string {
  if (station === 1) return 'at its start'
  if (across !== undefined && station >= across + 1) return 'at its end'
  return `between modules ${station - 1} and ${station}`
}
