import type { Where } from '../model/problem.ts'
import { ordinal } from './units.ts'

/**
 * Where a problem lies, from the file down: `roof.json, drawing › rows › 4th › bearingDeg`, `roof.json, line
 * 3, column 14`, `R3/T7/F2.14`. Empty when nothing is known.
 */
export function describeWhere(where: Where): string {
  const pieces = [
    where.file === undefined ? '' : printable(where.file),
    where.path === undefined ? '' : describePath(where.path),
    where.line === undefined ? '' : `line ${where.line}`,
    where.column === undefined ? '' : `column ${where.column}`,
    where.address === undefined ? '' : printable(where.address),
    where.entry === undefined ? '' : `record entry ${printable(where.entry)}`,
  ]
  return pieces.filter((piece) => piece !== '').join(', ')
}

/** A place in a JSON document; items of a list are counted from 1st, as a person does. */
export function describePath(path: readonly (string | number)[]): string {
  return path.map((step) => (typeof step === 'number' ? ordinal(step + 1) : printable(step))).join(' › ')
}

/**
 * Text from a file or a command line, made fit for one line of a sentence: control characters (a terminal
 * would obey them) become spaces, marks that turn the direction of writing go, what is too long is cut.
 */
export function printable(text: string, most = 120): string {
  const line = text.replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ').replace(/[\u202a-\u202e\u2066-\u2069]/g, '')
  const letters = [...line]
  return letters.length <= most ? line : `${letters.slice(0, most - 1).join('')}…`
}

/** The same, in quotation marks. */
export function quoted(text: string, most = 120): string {
  return `“${printable(text, most)}”`
}
