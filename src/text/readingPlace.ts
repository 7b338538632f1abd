import type { EntryOf } from '../model/schema/record.ts'
import { nameJoint } from './jointNames.ts'
import { namePair, namePart } from './partNames.ts'
import type { NameBook } from './places.ts'

/** How a reading was taken and where, whether it is told by the record or by an answer. */
export interface ReadingPlace {
  readonly method: EntryOf<'reading'>['method']
  readonly from: string
  readonly to: string
  readonly around: string | null
}

/** The same of an entry of the record. */
export function placeOf({ method, from, to, around }: EntryOf<'reading'>): ReadingPlace {
  return { method, from: from.part, to: to.part, around }
}

/** Whether it was read between two parts: then a current through the pair can be shown. */
export function isPair({ method }: Pick<ReadingPlace, 'method'>): boolean {
  return method === 'twoWire' || method === 'fourWire'
}

/** Where a reading was taken: between two parts, round a joint, or of an electrode to earth. */
export function nameReadingPlace(book: NameBook, { method, from, to, around }: ReadingPlace): string {
  switch (method) {
    case 'twoWire':
    case 'fourWire':
      return namePair(book, from, to)
    case 'loopClamp':
      return around === null
        ? 'loop clamp round a joint that was not noted'
        : `loop clamp round the ${nameJoint(book, around)}`
    case 'earthElectrode':
      return `electrode test of ${namePart(book, from)} to ${book.words.remoteEarth}`
  }
}
