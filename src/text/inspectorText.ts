import { typeOfTable } from '../model/presence.ts'
import type { JudgedReading } from '../model/answers.ts'
import type { EntryOf } from '../model/schema/record.ts'
import type { Fact } from './inspectText.ts'
import { formatOhm, formatReadOhm } from './ohms.ts'
import type { NameBook } from './places.ts'
import { formatCounted } from './units.ts'
import { printable } from './where.ts'

export const inspectorTexts = {
  asking: 'Looking it up …',
  noAnswer:
    'Nothing can be computed for this: it is not in the drawing as it is now, or the drawing has a fault.',
  notThere: 'This reading is not in the record any more.',
  waiting: 'The network has not been asked about this reading yet.',
} as const

/** What was read, before anything is computed from it. */
export function takenFacts({ result }: EntryOf<'reading'>, judged: JudgedReading | undefined): Fact[] {
  const read = result.form === 'ohm' ? formatReadOhm(result.ohm) : formatReadOhm(null, result.atLeastOhm)
  const level = judged?.investigateOhm ?? null
  return [
    { name: 'Read', value: read },
    ...(level === null ? [] : [{ name: 'Investigate above', value: formatOhm(level) }]),
  ]
}

/** What a table is made as. */
export function tableFacts(book: NameBook, row: number, table: number, suspects: number): Fact[] {
  const type = typeOfTable(book.drawing, row, table)
  if (!type) return []
  const { across, high } = type.modules
  return [
    { name: 'Type', value: printable(type.name) },
    {
      name: 'Modules',
      value: `${formatCounted(across * high, 'module')}, ${across} across and ${high} high`,
    },
    {
      name: 'Suspect joints in it or at its edges',
      value: suspects === 0 ? 'none listed' : String(suspects),
    },
  ]
}

/** Why a pair cannot be linked here. */
export const linkTexts = {
  readOnly: 'This site is open elsewhere and cannot be written to here.',
  noFirst: 'Choose first where the pair begins.',
  samePart: 'The pair begins here.',
} as const
