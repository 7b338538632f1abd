import { tableByOrdinal, tableIdAt } from '../layout/rowIndex.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { parseJointAddress, parsePartAddress } from '../model/address.ts'
import { byId } from '../model/queries/byId.ts'
import { findTable, tableCount } from '../model/queries/tablePosition.ts'
import type { FoundPlace } from './findCatch.ts'
import { nameJoint } from './jointNames.ts'
import { nameLocalPart, namePair, namePart } from './partNames.ts'
import { nameRow, nameTable, type NameBook } from './places.ts'
import { capital, formatCount, formatCounted, ordinal } from './units.ts'
import { quoted } from './where.ts'

/** Words of the search field. */
export const findTexts = {
  label: 'Find a place on the map',
  open: 'Find a place (key /)',
  close: 'Close the search',
  placeholder: 'Row, table, part, reading',
  results: 'Places found',
  examples: 'What can be typed, for instance',
} as const

/** One line of a list of places: what it is, where it is, and its address. */
export interface FoundText {
  readonly title: string
  readonly where: string
  readonly address: string
}

/** A place in words; `pair` are the ends of a reading. */
export function describeFound(
  book: NameBook,
  place: FoundPlace,
  pair: { readonly from: string; readonly to: string } | null = null,
): FoundText {
  switch (place.kind) {
    case 'row': {
      const row = byId(book.drawing.rows).get(place.row)
      const where = row ? formatCounted(tableCount(row), 'table') : ''
      return { title: capital(nameRow(book, place.row)), where, address: `R${place.row}` }
    }
    case 'table': {
      const row = byId(book.drawing.rows).get(place.row)
      const placed = row && findTable(row, place.table)
      const position =
        row && placed ? `, ${ordinal(placed.position + 1)} of ${formatCount(tableCount(row))}` : ''
      return {
        title: capital(nameTable(book, place.row, place.table)),
        where: `${nameRow(book, place.row)}${position}`,
        address: `R${place.row}/T${place.table}`,
      }
    }
    case 'part':
      return describePart(book, place.address)
    case 'joint':
      return describeJoint(book, place.address)
    case 'reading':
      return {
        title: `Reading ${place.number}`,
        where: pair ? namePair(book, pair.from, pair.to) : '',
        address: '',
      }
  }
}

function describePart(book: NameBook, address: string): FoundText {
  const parsed = parsePartAddress(address)
  if (parsed?.at !== 'table') {
    const sort = parsed && parsed.at !== 'remoteEarth' ? sortOf(book, parsed.at) : ''
    return { title: capital(namePart(book, address)), where: sort, address }
  }
  const { row, table, part } = parsed
  return {
    title: capital(nameLocalPart(book, part, row, table)),
    where: `${nameTable(book, row, table)}, ${nameRow(book, row)}`,
    address,
  }
}

function describeJoint(book: NameBook, address: string): FoundText {
  const parsed = parseJointAddress(address)
  const name = nameJoint(book, address)
  if (parsed?.at !== 'table') return { title: capital(name), where: 'joint', address }
  const where = `${nameTable(book, parsed.row, parsed.table)}, ${nameRow(book, parsed.row)}`
  return { title: capital(name.slice(0, -`, ${where}`.length)), where: `joint, ${where}`, address }
}

function sortOf(book: NameBook, at: 'enclosure' | 'earthBar' | 'electrode' | 'conductor'): string {
  switch (at) {
    case 'enclosure':
      return 'enclosure'
    case 'earthBar':
      return book.words.earthBar
    case 'electrode':
      return book.words.electrode
    case 'conductor':
      return 'point of a conductor'
  }
}

/** `and 312 more: type on`; nothing where the list has them all. */
export function describeFurther(further: number): string {
  return further === 0 ? '' : `and ${formatCount(further)} more: type on`
}

/** What a screen reader hears when the list changes. */
export function announceFound(shown: number, further: number): string {
  if (shown === 0) return ''
  const total = formatCounted(shown + further, 'place')
  return further === 0 ? `${total}.` : `${total}, ${formatCount(shown)} of them listed: type on for the rest.`
}

export function describeNothing(typed: string): string {
  return `Nothing here is called ${quoted(typed.trim(), 40)}.`
}

/** What could be typed on this very site: its own labels and numbers. */
export function findExamples(index: SiteIndex, book: NameBook, readings: number): readonly string[] {
  const { drawing, rows } = index
  const examples: string[] = []
  if (drawing.rows.length > 0) {
    const r = Math.floor((drawing.rows.length - 1) / 2)
    const row = drawing.rows[r].id
    const middle = tableByOrdinal(rows, r, Math.floor(rows.tables[r] / 2))
    const table = tableIdAt(rows, middle)
    const label = drawing.rows[r].tableLabels[String(table)]?.trim() ?? ''
    examples.push(nameRow(book, row))
    examples.push(label === '' ? `${nameTable(book, row, table)}, ${nameRow(book, row)}` : label)
    examples.push(`frame 1.1 ${label === '' ? `R${row}/T${table}` : label}`)
  }
  if (drawing.earthBars.length > 0) examples.push(namePart(book, `B${drawing.earthBars[0].id}`))
  else if (drawing.enclosures.length > 0) examples.push(namePart(book, `E${drawing.enclosures[0].id}`))
  if (readings > 0) examples.push(`reading ${readings}`)
  return examples
}
