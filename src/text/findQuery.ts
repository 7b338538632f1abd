import { wantedOf } from '../layout/findTokens.ts'
import type { Wanted } from '../layout/findTokens.ts'
import type { WantedLine } from '../layout/findTables.ts'

/** Where something is looked for: a row and a table, each null where any will do. */
export interface WantedPlace {
  readonly row: WantedLine | null
  readonly table: WantedLine | null
  /** Which of the two were named, with or without a label or number. */
  readonly names: 'row' | 'table' | 'both'
}

/** One way to read what was typed: a part or joint of a table, and the words that are left for its place. */
export interface LocalSplit {
  readonly local: Wanted
  readonly rest: Wanted
}

type Line = 'row' | 'table'

const letters: Readonly<Record<Line, string>> = { row: 'r', table: 't' }
const mostTokens = 24
/** Words that begin the name of a part or joint of a table. */
const heads = [
  ...[
    'frame',
    'rail',
    'tube',
    'cross',
    'post',
    'front',
    'rear',
    'clamp',
    'link',
    'splice',
    'metal',
    'bracket',
  ],
  ...['bond', 'joint', 'earth'],
]
const headLetters = ['f', 'l', 'x', 'p']

const isNumber = (token: string | undefined) => token !== undefined && /^\p{N}+$/u.test(token)
const isOrdinal = (token: string) => /^\p{N}+(st|nd|rd|th)$/u.test(token)

/** Tokens that can be read: more than anything is called by are left out. */
export function readable(tokens: readonly string[]): readonly string[] {
  return tokens.slice(0, mostTokens)
}

/** Whether the token at `at` says that a row or a table comes next. */
function isLineAt(tokens: readonly string[], at: number): boolean {
  const token = tokens[at]
  if (token === 'row' || token === 'table') return true
  return (token === letters.row || token === letters.table) && isNumber(tokens[at + 1])
}

/** The ways to read words as a row, a table or both, in either order, with or without saying which is which. */
export function placesMeant({ tokens, isOpen }: Wanted): readonly WantedPlace[] {
  const n = tokens.length
  if (n === 0) return []
  const found: WantedPlace[] = []
  for (const table of linesOf('table', tokens, isOpen)) found.push({ row: null, table, names: 'table' })
  for (const row of linesOf('row', tokens, isOpen)) found.push({ row, table: null, names: 'row' })
  for (const cut of cutsOf(tokens)) {
    const front = tokens.slice(0, cut)
    const back = tokens.slice(cut)
    for (const [first, second] of [
      ['row', 'table'],
      ['table', 'row'],
    ] as const) {
      for (const one of linesOf(first, front, false)) {
        for (const other of linesOf(second, back, isOpen)) {
          found.push(
            first === 'row'
              ? { row: one, table: other, names: 'both' }
              : { row: other, table: one, names: 'both' },
          )
        }
      }
    }
  }
  return found
}

/** Where words may be parted: before `row` and `table` where they are said, else anywhere in a few words. */
function cutsOf(tokens: readonly string[]): readonly number[] {
  const inner = tokens.map((_, at) => at).slice(1)
  const said = inner.filter((at) => isLineAt(tokens, at))
  if (said.length > 0) return said
  return tokens.length <= 6 ? inner : []
}

/** What is looked for of a row or table: without the word that says so. Null alone: any. */
function linesOf(line: Line, tokens: readonly string[], isOpen: boolean): readonly (WantedLine | null)[] {
  const [first] = tokens
  const isAlone = tokens.length === 1
  if (isAlone && (first === line || (isOpen && line.startsWith(first)))) {
    const asLabel = { wanted: wantedOf(tokens, isOpen), isAddress: false }
    return first === line ? [null] : [null, asLabel]
  }
  const asLabel = { wanted: wantedOf(tokens, isOpen), isAddress: false }
  if (isAlone) return [asLabel]
  const rest = wantedOf(tokens.slice(1), isOpen)
  if (first === line) return [{ wanted: rest, isAddress: false }]
  if (first === letters[line] && isNumber(tokens[1])) return [{ wanted: rest, isAddress: true }, asLabel]
  return first === 'row' || first === 'table' ? [] : [asLabel]
}

/** The ways to part words into a part or joint of a table, and where it is: before it, after it, or both. */
export function localSplits({ tokens, isOpen }: Wanted): readonly LocalSplit[] {
  const n = tokens.length
  const splits: LocalSplit[] = []
  for (let start = 0; start < n; start++) {
    if (!isHeadAt(tokens, start, isOpen)) continue
    for (const end of endsOf(tokens, start)) {
      const after = tokens.slice(end)
      splits.push({
        local: wantedOf(tokens.slice(start, end), isOpen && end === n),
        rest: wantedOf([...tokens.slice(0, start), ...after], isOpen && after.length > 0),
      })
    }
  }
  return splits
}

function endsOf(tokens: readonly string[], start: number): readonly number[] {
  const n = tokens.length
  for (let at = start + 1; at < n; at++) if (isLineAt(tokens, at)) return [at]
  // a bare label may follow: the longest name of a part is tried first
  return start === 0 ? Array.from({ length: n }, (_, k) => n - k) : [n]
}

function isHeadAt(tokens: readonly string[], at: number, isOpen: boolean): boolean {
  const token = tokens[at]
  const isLast = at === tokens.length - 1
  if (heads.includes(token)) return true
  if (headLetters.includes(token) && (isLast || isNumber(tokens[at + 1]))) return true
  if (isOrdinal(token)) return true
  return isLast && isOpen && heads.some((head) => head.startsWith(token))
}

/** A jumper between two tables: what was said of the one table or the two, of the row, and of which jumper it is. */
export interface WantedJumper {
  readonly places: readonly WantedPlace[]
  /** The table after the gap, where two were named. */
  readonly after: WantedLine | null
  readonly jumper: 1 | 2 | null
}

/** Null where no jumper is meant. */
export function jumperMeant({ tokens, isOpen }: Wanted, raw: string): WantedJumper | null {
  const said = tokens.findIndex((token, at) => isJumperWord(token, isOpen && at === tokens.length - 1))
  if (said < 0 && !raw.includes('+')) return null
  const rest = tokens.filter((_, at) => at !== said)
  const on = rest.findIndex((token, at) => (token === 'first' || token === 'last') && rest[at + 1] === 'rail')
  const jumper = on < 0 ? null : rest[on] === 'first' ? 1 : 2
  const words = on < 0 ? rest : rest.filter((_, at) => at !== on && at !== on + 1)
  const isStillOpen = isOpen && said < tokens.length - 1
  const tables = words.flatMap((token, at) => (isLineAt(words, at) && token.startsWith('t') ? [at] : []))
  if (tables.length < 2) {
    return { places: placesMeant(wantedOf(words, isStillOpen)), after: null, jumper }
  }
  const second = tables[1]
  let end = words.length
  for (let at = second + 1; at < words.length; at++) if (isLineAt(words, at)) end = at
  const before = [...words.slice(0, second), ...words.slice(end)]
  const [after] = linesOf('table', words.slice(second, end), isStillOpen && end === words.length)
  return { places: placesMeant(wantedOf(before, isStillOpen && end < words.length)), after, jumper }
}

function isJumperWord(token: string, isOpen: boolean): boolean {
  return (
    token === 'jumper' || token === 'jumpers' || (isOpen && token.length >= 2 && 'jumper'.startsWith(token))
  )
}

/** The number of a reading that is looked for; null for any reading, undefined where none is meant. */
export function readingMeant({ tokens, isOpen }: Wanted): Wanted | null | undefined {
  const [first, second] = tokens
  if (tokens.length === 1 && isNumber(first)) return wantedOf(tokens, isOpen)
  if (first === 'reading' || first === 'readings') {
    if (tokens.length === 1) return null
    return tokens.length === 2 && isNumber(second) ? wantedOf([second], isOpen) : undefined
  }
  return tokens.length === 1 && isOpen && first.length >= 2 && 'reading'.startsWith(first) ? null : undefined
}
