import type { LocateAnswer } from '../model/answers.ts'
import type { Site } from '../model/schema/site.ts'
import type { Picked } from '../state/picked.ts'
import { nameJoint } from '../text/jointNames.ts'
import { namePlacedTable } from '../text/panelText.ts'
import { namePair, namePart } from '../text/partNames.ts'
import type { NameBook } from '../text/places.ts'
import { readingNumber } from '../text/suspectText.ts'
import { capital } from '../text/units.ts'
import { printable } from '../text/where.ts'

/** The head of what is picked: its name, and the address that the drawing knows it by. */
export interface PickedName {
  readonly title: string
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
      return { title: capital(namePart(book, picked.address)), address: printable(picked.address) }
    case 'joint':
      return { title: capital(nameJoint(book, picked.address)), address: printable(picked.address) }
    case 'suspect':
      return { title: capital(nameJoint(book, picked.joint)), address: printable(picked.joint) }
    case 'table': {
      const { row, table } = picked
      return { title: capital(namePlacedTable(book, row, table)), address: `R${row}/T${table}` }
    }
    case 'reading': {
      const number = locate && readingNumber(locate, picked.entry)
      const taken = site?.record.find(({ id }) => id === picked.entry)
      const pair = taken?.entry === 'reading' ? namePair(book, taken.from.part, taken.to.part) : ''
      const title = number === null ? 'Reading' : `Reading ${number}`
      return { title: pair === '' ? title : `${title}, ${pair}`, address: null }
    }
  }
}
