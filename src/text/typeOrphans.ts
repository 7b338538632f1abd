import { parsePartAddress } from '../model/address.ts'
import type { StoredAddress } from '../model/queries/storedAddresses.ts'
import type { Entry } from '../model/schema/record.ts'
import type { Site } from '../model/schema/site.ts'
import { nameJointAt } from './jointNames.ts'
import { nameConductor, namePart } from './partNames.ts'
import { openNameBook, type NameBook } from './places.ts'
import { nameReadingPlace, placeOf } from './readingPlace.ts'
import { formatCounted } from './units.ts'
import { printable } from './where.ts'

/** One sort of thing that an edit leaves without its part or joint. */
export interface OrphanLines {
  readonly sort: string
  /** Whether they stay as they are, or the drawing lets go of them. */
  readonly isKept: boolean
  readonly names: readonly string[]
  /** How many more there are than are named. */
  readonly more: number
}

const mostNamed = 6

interface Orphan {
  readonly sort: Sort
  readonly key: string
  readonly name: string
}

type Sort = keyof typeof sortWords

const sortWords = {
  reading: { one: 'reading', isKept: true },
  correction: { one: 'correction of a reading', many: 'corrections of readings', isKept: true },
  look: { one: 'look', isKept: true },
  repair: { one: 'repair', isKept: true },
  other: { one: 'other entry', many: 'other entries', isKept: true },
  pair: { one: 'planned pair', isKept: true },
  differing: { one: 'joint that differs', many: 'joints that differ', isKept: true },
  asBuilt: { one: 'as-built difference', isKept: true },
  lesson: { one: 'step of a lesson', many: 'steps of lessons', isKept: true },
  conductor: { one: 'landing of a conductor', many: 'landings of conductors', isKept: false },
  extra: { one: 'extra joint', isKept: false },
  source: { one: 'return of a source', many: 'returns of sources', isKept: false },
} as const satisfies Record<string, { one: string; many?: string; isKept: boolean }>

/** What an edit would leave without a part or joint, by sort; names by the drawing as it is before the edit. */
export function describeOrphans(site: Site, orphans: readonly StoredAddress[]): readonly OrphanLines[] {
  const book = openNameBook(site.drawing)
  const entries = new Map(site.record.map((entry) => [entry.id, entry]))
  const bySort = new Map<Sort, Map<string, string>>()
  for (const orphan of orphans) {
    const { sort, key, name } = nameOrphan(site, book, entries, orphan)
    const named = bySort.get(sort) ?? new Map<string, string>()
    // A reading with both ends gone is one reading.
    named.set(key, name)
    bySort.set(sort, named)
  }
  const sorts = Object.keys(sortWords) as Sort[]
  return sorts.flatMap((sort) => {
    const named = bySort.get(sort)
    if (!named) return []
    const words: { one: string; many?: string; isKept: boolean } = sortWords[sort]
    const names = [...named.values()]
    return {
      sort: formatCounted(names.length, words.one, words.many),
      isKept: words.isKept,
      names: names.slice(0, mostNamed),
      more: Math.max(0, names.length - mostNamed),
    }
  })
}

function nameOrphan(
  { drawing }: Site,
  book: NameBook,
  entries: ReadonlyMap<string, Entry>,
  { text, path, entry }: StoredAddress,
): Orphan {
  const found = entry === undefined ? undefined : entries.get(entry)
  if (found) {
    const name = found.entry === 'reading' ? nameReadingPlace(book, placeOf(found)) : nameAddress(book, text)
    const sort = found.entry === 'reading' ? 'reading' : sortOfEntry(found)
    return { sort, key: found.id, name }
  }
  const [, list, at, , inner] = path
  const key = `${String(at)}/${String(inner)}`
  const name = nameAddress(book, text)
  switch (list) {
    case 'plans':
      return { sort: 'pair', key, name: `${printable(drawing.plans[Number(at)].name)}: ${name}` }
    case 'conductors': {
      const conductor = nameConductor(book, drawing.conductors[Number(at)].id)
      return { sort: 'conductor', key, name: `${conductor} at ${name}` }
    }
    case 'extraJoints': {
      const { id, label } = drawing.extraJoints[Number(at)]
      return { sort: 'extra', key: String(at), name: printable(label).trim() || `extra joint ${id}` }
    }
    case 'asBuilt':
      return { sort: 'asBuilt', key: String(at), name }
    case 'sources':
      return { sort: 'source', key: String(at), name }
    case 'lessons':
      return { sort: 'lesson', key, name }
    default:
      return { sort: 'differing', key: String(at), name }
  }
}

function sortOfEntry({ entry }: Entry): Sort {
  return entry === 'correction' || entry === 'look' || entry === 'repair' ? entry : 'other'
}

function nameAddress(book: NameBook, text: string): string {
  return parsePartAddress(text) ? namePart(book, text) : nameJointAt(book, text)
}

/** The question before a change of a type whose tables stand in the drawing. */
export const orphanTexts = {
  title: 'Something has been noted where this change takes parts away',
  kept:
    'These stay in the record or the plan as they are. They name parts or joints that the drawing then no longer ' +
    'has, are shown as such, and count for nothing until the part is back:',
  letGo: 'The drawing lets go of these:',
  moved:
    'These go on naming a part by its number, and after the change that number stands elsewhere in the table. What ' +
    'was read there would count at the new place:',
  keep: 'Keep the readings, change the type',
  back: 'Back',
} as const

export function describeMore(more: number): string {
  return `and ${more} more`
}
