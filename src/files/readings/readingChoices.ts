import type { EntryOf, Kit, Lead } from '../../model/schema/record.ts'
import type { Cells, Line } from '../tables/readCells.ts'
import { guessReadingColumns, readingRoles, unitOfHeading } from './readingColumns.ts'
import type { ReadingColumns, ReadingRole } from './readingColumns.ts'
import type { EndsAre } from './matchEnds.ts'
import { guessMarks, type NumberMarks, type OhmWord } from './readOhms.ts'
import { guessOrder, type DateOrder } from './readTimes.ts'

/** Where readings go, and what they may have been read with. */
export interface ReadingTarget {
  /** Null where a visit is opened for the list. */
  readonly visit: EntryOf<'visit'> | null
  readonly kits: readonly Kit[]
  readonly leads: readonly Lead[]
}

/** How a list of readings is to be read: a guess from its own words, and then the user's word. */
export interface ReadingChoices {
  readonly firstLine: 'headings' | 'reading'
  readonly columns: ReadingColumns
  readonly endsAre: EndsAre
  /** Unit of values that name none; null until somebody says. */
  readonly unit: OhmWord | null
  /** Null where the list does not show what parts decimals, until somebody says. */
  readonly marks: NumberMarks | null
  /** Null where the list does not show it, until somebody says. */
  readonly order: DateOrder | null
  /** Of lines that name none. */
  readonly kit: string | null
  readonly lead: string | null
  /** Of lines that do not say whether leads were nulled. */
  readonly nulled: boolean
  /** Instruments and leads by what the list calls them, letters small; null for a name that stands for none. */
  readonly kitOf: ReadonlyMap<string, string | null>
  readonly leadOf: ReadonlyMap<string, string | null>
  /** Lines without a time, of a pair and a value that are there already: the same reading again, or another one. */
  readonly alike: 'same' | 'repeat'
}

const looked = 2_000
const mostNames = 12

/** Lines with readings: all of them where the first one is a reading, too. */
export function linesOf(cells: Cells, { firstLine }: Pick<ReadingChoices, 'firstLine'>): readonly Line[] {
  return firstLine === 'headings'
    ? cells.lines
    : [{ number: 1, cells: cells.header, isBroken: false }, ...cells.lines]
}

/** What the list's own words say, for a start. */
export function guessReadingChoices(cells: Cells, target: ReadingTarget): ReadingChoices {
  const guessed = guessReadingColumns(cells.header)
  const isHeaded = guessed.from >= 0 || guessed.to >= 0 || guessed.value >= 0
  const firstLine = isHeaded ? 'headings' : 'reading'
  const columns = isHeaded ? guessed : columnsInOrder(cells.header.length)
  const heading = (role: ReadingRole) => (columns[role] < 0 ? '' : (cells.header[columns[role]] ?? ''))
  const named = isHeaded ? unitOfHeading(heading('value')) : null
  const addresses = /address/i.test(heading('from')) && /address/i.test(heading('to'))
  const lines = linesOf(cells, { firstLine })
  const dates = columns.date >= 0 ? columns.date : columns.time
  return {
    firstLine,
    columns,
    endsAre: addresses ? 'addresses' : 'either',
    unit: named === 'unclear' ? null : named,
    marks: guessMarks(cellsOf(lines, [columns.value, columns.reverse, columns.least, columns.most])),
    order: guessOrder(cellsOf(lines, [dates])),
    kit: target.kits[0]?.id ?? null,
    lead: target.leads[0]?.id ?? null,
    nulled: false,
    kitOf: new Map(),
    leadOf: new Map(),
    alike: 'same',
  }
}

function columnsInOrder(count: number): ReadingColumns {
  const none = Object.fromEntries(readingRoles.map((role) => [role, -1])) as Record<ReadingRole, number>
  return { ...none, from: 0, to: count > 1 ? 1 : -1, value: count > 2 ? 2 : -1 }
}

function* cellsOf(lines: readonly Line[], columns: readonly number[]): Generator<string> {
  for (const { cells } of lines.slice(0, looked)) {
    for (const column of columns) if (column >= 0) yield cells[column] ?? ''
  }
}

/** Names of instruments or leads in the list that the visit does not have, the first of each as written. */
export function foreignNames(
  cells: Cells,
  choices: ReadingChoices,
  role: 'instrument' | 'lead',
  { kits, leads }: ReadingTarget,
): readonly string[] {
  const column = choices.columns[role]
  if (column < 0) return []
  const own = (role === 'instrument' ? kits : leads) as readonly {
    readonly id: string
    readonly name: string
  }[]
  const known = new Set(own.flatMap(({ id, name }) => [id.toLowerCase(), name.trim().toLowerCase()]))
  const names = new Map<string, string>()
  for (const line of linesOf(cells, choices)) {
    const name = (line.cells[column] ?? '').trim()
    const small = name.toLowerCase()
    if (name !== '' && !isNone(name) && !known.has(small) && !names.has(small)) names.set(small, name)
    if (names.size >= mostNames) break
  }
  return [...names.values()]
}

export const isNone = (text: string) => /^(none|no|-|–)$/i.test(text.trim())
