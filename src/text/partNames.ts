import { parsePartAddress, type LocalPart, type PartAddress } from '../model/address.ts'
import { typeOfTable } from '../model/presence.ts'
import { byId } from '../model/queries/byId.ts'
import type { ConductorPoint } from '../model/schema/equipment.ts'
import type { TableType } from '../model/schema/tableType.ts'
import { labelled, nameRow, nameStation, nameTable, type NameBook } from './places.ts'
import { printable } from './where.ts'

/** What a part is called, and the table and row it stands in, apart: so that what two parts share is said once. */
interface SplitName {
  readonly part: string
  readonly table: string
  readonly row: string
}

/** A part in the words of the trade: `frame 2.14, table 7, row 3`, `earth bar 1`, `main bonding conductor at row 4`. */
export function namePart(book: NameBook, address: string): string {
  return joined(splitName(book, address))
}

/** Two parts with what they share said once: `frame 1.1, table 4 to frame 1.1, table 1, row 2`. */
export function namePair(book: NameBook, from: string, to: string, between = 'to'): string {
  const a = splitName(book, from)
  const b = splitName(book, to)
  const sameRow = a.row !== '' && a.row === b.row
  const first = sameRow ? { ...a, row: '', table: a.table === b.table ? '' : a.table } : a
  return `${joined(first)} ${between} ${joined(b)}`
}

/** A part of a table without its table: `rail 3 between modules 14 and 15`. */
export function nameLocalPart(book: NameBook, part: LocalPart, row: number, table: number): string {
  const type = typeOfTable(book.drawing, row, table)
  switch (part.of) {
    case 'frame':
      return `frame ${part.high}.${part.across}`
    case 'longMember':
      return `${nameMember(book, part.member, type)} ${nameStation(part.station, type?.modules.across)}`
    case 'crossMember':
      return `${book.words.crossMember} ${part.position}`
    case 'post':
      return type?.posts?.lines === 2
        ? `${part.line === 1 ? 'front' : 'rear'} post ${part.position}`
        : `post ${part.position}`
  }
}

/** A long member by its number; the tube of a tracker needs none, where it is the only one. */
export function nameMember(book: NameBook, member: number, type: TableType | null): string {
  const tubes = type === null ? [] : tubesOf(type)
  if (!tubes.includes(member)) return `${book.words.longMember} ${member}`
  return tubes.length === 1 ? book.words.tube : `${book.words.tube} ${member}`
}

/** The long members of a tracker that turn the others: those that carry no module, or the only one there is. */
export function tubesOf({ mounting, longMembers }: TableType): readonly number[] {
  if (mounting !== 'tracker') return []
  if (longMembers.length === 1) return [1]
  return longMembers.flatMap(({ carries }, k) => (carries.length === 0 ? [k + 1] : []))
}

export function nameConductor(book: NameBook, id: number): string {
  const label = printable(byId(book.drawing.conductors).get(id)?.label ?? '').trim()
  return label === '' ? `conductor ${id}` : label
}

/** Where a point of a conductor is: what it lands on, or which of its points it is. */
export function nameConductorPoint(book: NameBook, point: ConductorPoint | undefined, id: number): string {
  if (!point?.landing) return `point ${id}`
  return nameLanding(book, point.landing.part)
}

/** The place that a lug is found at; of a part of a table, the table is enough to walk to. */
function nameLanding(book: NameBook, address: string): string {
  const parsed = parsePartAddress(address)
  if (parsed?.at === 'table')
    return `${nameTable(book, parsed.row, parsed.table)}, ${nameRow(book, parsed.row)}`
  return namePart(book, address)
}

function splitName(book: NameBook, address: string): SplitName {
  const parsed = parsePartAddress(address)
  if (!parsed) return { part: printable(address), table: '', row: '' }
  if (parsed.at !== 'table') return { part: nameItem(book, parsed), table: '', row: '' }
  return {
    part: nameLocalPart(book, parsed.part, parsed.row, parsed.table),
    table: nameTable(book, parsed.row, parsed.table),
    row: nameRow(book, parsed.row),
  }
}

function nameItem(book: NameBook, address: Exclude<PartAddress, { at: 'table' }>): string {
  switch (address.at) {
    case 'remoteEarth':
      return book.words.remoteEarth
    case 'enclosure':
      return named(byId(book.drawing.enclosures).get(address.id)?.label, 'enclosure', address.id)
    case 'earthBar':
      return named(byId(book.drawing.earthBars).get(address.id)?.label, book.words.earthBar, address.id)
    case 'electrode': {
      const electrode = byId(book.drawing.electrodes).get(address.id)
      const word = electrode?.form === 'rod' ? `${book.words.earth} rod` : book.words.electrode
      return named(electrode?.label, word, address.id)
    }
    case 'conductor': {
      const point = byId(book.drawing.conductors)
        .get(address.id)
        ?.points.find(({ id }) => id === address.point)
      return `${nameConductor(book, address.id)} at ${nameConductorPoint(book, point, address.point)}`
    }
  }
}

/** Things with a name of their own are called by it; a label of one token needs its word beside it. */
function named(label: string | undefined, word: string, id: number): string {
  const painted = printable(label ?? '').trim()
  return /\s/.test(painted) ? painted : labelled(word, painted, String(id))
}

function joined({ part, table, row }: SplitName): string {
  return [part, table, row].filter((piece) => piece !== '').join(', ')
}
