import type { Result } from '../../base/result.ts'
import { fail, ok } from '../../base/result.ts'
import type { Problem } from '../problem.ts'
import { problem } from '../problem.ts'

/*
 * The text of a painted label with places for what differs from table to table:
 *
 *   {row} {table}        numbers as counted          {table:02}     with noughts in front, here to two digits
 *   {name}               what is painted on the row  {row:A} {row:a} letters: A … Z, AA …
 */

export type Counted = 'row' | 'table'

type Form = { readonly digits: number } | { readonly letters: 'A' | 'a' }

export type LabelPiece =
  | { readonly is: 'text'; readonly text: string }
  | { readonly is: 'count'; readonly of: Counted; readonly form: Form }
  | { readonly is: 'rowName' }

export interface LabelFacts {
  readonly row: number
  readonly table: number
  readonly rowName: string
}

const placeholder = /^(row|table)(?::(?:0([1-9])|([Aa])))?$/

/** Reads a pattern; refused where something in braces stands for nothing, or is of a count that is not there. */
export function readLabelPattern(
  pattern: string,
  counted: readonly Counted[] = ['row', 'table'],
): Result<readonly LabelPiece[], Problem> {
  const pieces: LabelPiece[] = []
  for (const [, text, braces] of pattern.matchAll(/([^{]+)|(\{[^}]*\}?)/g) as Iterable<
    readonly (string | undefined)[]
  >) {
    if (text !== undefined) {
      pieces.push({ is: 'text', text })
      continue
    }
    const inside = /^\{(.*)\}$/s.exec(braces!)?.[1]
    if (inside === 'name') {
      pieces.push({ is: 'rowName' })
      continue
    }
    const found = inside === undefined ? null : placeholder.exec(inside)
    if (!found || !counted.includes(found[1] as Counted)) {
      return fail(problem('label.placeholder', { found: braces!, counted }))
    }
    const letters = found[3] as 'A' | 'a' | undefined
    const form: Form = letters ? { letters } : { digits: Number(found[2] ?? 1) }
    pieces.push({ is: 'count', of: found[1] as Counted, form })
  }
  return ok(pieces)
}

/** The counts of a pattern that are written in letters: they begin at 1 or later. */
export function countsInLetters(pieces: readonly LabelPiece[]): readonly Counted[] {
  return pieces.flatMap((piece) => (piece.is === 'count' && 'letters' in piece.form ? [piece.of] : []))
}

export function writeLabel(pieces: readonly LabelPiece[], facts: LabelFacts): string {
  let label = ''
  for (const piece of pieces) {
    if (piece.is === 'text') label += piece.text
    else if (piece.is === 'rowName') label += facts.rowName
    else label += writeCount(facts[piece.of], piece.form)
  }
  return label
}

function writeCount(count: number, form: Form): string {
  if ('digits' in form) return String(count).padStart(form.digits, '0')
  const letters = lettersOf(count)
  return form.letters === 'a' ? letters.toLowerCase() : letters
}

/** 1 → A, 26 → Z, 27 → AA. */
function lettersOf(count: number): string {
  let letters = ''
  for (let left = count; left > 0; left = Math.floor((left - 1) / 26)) {
    letters = String.fromCharCode(65 + ((left - 1) % 26)) + letters
  }
  return letters
}
