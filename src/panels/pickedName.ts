import type { LocateAnswer } from '../model/answers.ts'
import type { Site } from '../model/schema/site.ts'
import type { Picked } from '../state/picked.ts'
import { nameJoint } from '../text/jointNames.ts'
import { namePlacedTable } from '../text/panelText.ts'
import { namePart } from '../text/partNames.ts'
import type { NameBook } from '../text/places.ts'
import { readingNumber } from '../text/evidenceText.ts'
import { nameReadingPlace, placeOf } from '../text/readingPlace.ts'
import { capital } from '../text/units.ts'
import { printable } from '../text/where.ts'

/** The head of what is picked: its name, what it lies between, and the address that the drawing knows it by. */
export interface PickedName {
  readonly title: string
  readonly about: string | null
  readonly address: string | null
}

export function pickedName(
  picked: Picked,
  book: NameBook,
  site: Site | null,
  locate: LocateAnswer | null,
): PickedName {
  switch (picked.kind) {
    case 'part':
      return named(namePart(book, picked.address), picked.address)
    case 'joint':
      return named(nameJoint(book, picked.address), picked.address)
    case 'suspect':
      return named(nameJoint(book, picked.joint), picked.joint)
    case 'table': {
      const { row, table } = picked
      return named(namePlacedTable(book, row, table), `R${row}/T${table}`)
    }
    case 'reading': {
      const number = locate && readingNumber(locate, picked.entry)
      const taken = site?.record.find(({ id }) => id === picked.entry)
      const place = taken?.entry === 'reading' ? nameReadingPlace(book, placeOf(taken)) : null
      return { title: number === null ? 'Reading' : `Reading ${number}`, about: place, address: null }
    }
  }
}

function named(name: string, address: string): PickedName {
  return { title: capital(name), about: null, address: printable(address) }
}
