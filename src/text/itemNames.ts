import type { DrawnItem, DrawnSort } from '../model/drawnItem.ts'
import { drawnSorts, findDrawn } from '../model/drawnItem.ts'
import { nameConductor, namePart } from './partNames.ts'
import { labelled, nameRow, type NameBook } from './places.ts'
import { formatCounted, inWords } from './units.ts'

/** A drawn thing in the words of the trade, never a bare label: `row N2`, `conductor 4`, `earth bar 1`. */
export function nameItem(book: NameBook, { sort, id }: DrawnItem): string {
  switch (sort) {
    case 'row':
      return nameRow(book, id)
    case 'enclosure':
      return namePart(book, `E${id}`)
    case 'earthBar':
      return namePart(book, `B${id}`)
    case 'electrode':
      return namePart(book, `G${id}`)
    case 'conductor':
      return nameConductor(book, id)
    case 'aisle':
      return `aisle ${id}`
    case 'obstacle':
      return labelled('obstacle', findDrawn(book.drawing, 'obstacle', id)?.name ?? '', String(id))
  }
}

const letters = { row: 'R', enclosure: 'E', earthBar: 'B', electrode: 'G', conductor: 'C' } as const

/** The beginning of its addresses; null for what nothing is measured at. */
export function addressOfItem({ sort, id }: DrawnItem): string | null {
  return sort === 'aisle' || sort === 'obstacle' ? null : `${letters[sort]}${id}`
}

/** What a sort of drawn thing is called, one and many. */
export const sortWords: Readonly<Record<DrawnSort, readonly [one: string, many: string]>> = {
  row: ['row', 'rows'],
  enclosure: ['enclosure', 'enclosures'],
  earthBar: ['earth bar', 'earth bars'],
  electrode: ['electrode', 'electrodes'],
  conductor: ['conductor', 'conductors'],
  aisle: ['aisle', 'aisles'],
  obstacle: ['obstacle', 'obstacles'],
}

/** `3 rows and 1 conductor`. */
export function countItems(items: readonly DrawnItem[]): string {
  const counted = drawnSorts.flatMap((sort) => {
    const count = items.filter((item) => item.sort === sort).length
    return count === 0 ? [] : [formatCounted(count, ...sortWords[sort])]
  })
  return inWords(counted)
}
