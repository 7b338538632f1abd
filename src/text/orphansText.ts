import { parseJointAddress } from '../model/address.ts'
import { nameJoint } from './jointNames.ts'
import { namePair, namePart } from './partNames.ts'
import type { NameBook } from './places.ts'
import { capital, formatCounted, inWords } from './units.ts'

/** What keeps an address that an edit would leave without a part or joint. */
export interface OrphanedThing {
  readonly sort: OrphanSort
  /** Addresses of its part or joint, or of its two ends. */
  readonly about: readonly string[]
  /** The record entry, where it is one. */
  readonly entry: string | null
}

const words = {
  reading: ['reading', 'readings'],
  volts: ['check for volts', 'checks for volts'],
  look: ['look at a joint', 'looks at joints'],
  repair: ['repair', 'repairs'],
  note: ['note', 'notes'],
  planPair: ['pair of a plan', 'pairs of plans'],
  finding: ['finding', 'findings'],
  differing: ['joint that differs by design', 'joints that differ by design'],
  lesson: ['step of a lesson', 'steps of lessons'],
} as const
export type OrphanSort = keyof typeof words
export const orphanSorts = Object.keys(words) as readonly OrphanSort[]

/** `4 readings, 1 look at a joint and 2 pairs of plans`. */
export function countOrphans(orphans: readonly OrphanedThing[]): string {
  const counted = orphanSorts.flatMap((sort) => {
    const count = orphans.filter((orphan) => orphan.sort === sort).length
    return count === 0 ? [] : [formatCounted(count, words[sort][0], words[sort][1])]
  })
  return inWords(counted)
}

/** One of them with its place as it is drawn now: `Reading, earth bar 1 to frame 1.1, table 7, row 3`. */
export function nameOrphan(book: NameBook, { sort, about }: OrphanedThing): string {
  const place =
    about.length === 2
      ? namePair(book, about[0], about[1])
      : parseJointAddress(about[0])
        ? nameJoint(book, about[0])
        : namePart(book, about[0])
  return `${capital(words[sort][0])}, ${place}`
}

export const orphanTexts = {
  whatHappens: (orphans: readonly OrphanedThing[]) => {
    const one = orphans.length === 1
    return (
      `${capital(countOrphans(orphans))} ${one ? 'names' : 'name'} what this change takes out of the drawing. ` +
      `${one ? 'It stays' : 'They stay'} on record as ${one ? 'it is' : 'they are'}, but without a place: ` +
      `${one ? 'it is' : 'they are'} not drawn and not counted. Undo brings the place back.`
    )
  },
  more: (count: number) => `and ${formatCounted(count, 'more', 'more')}.`,
  question: (label: string) => `${capital(label)}?`,
  back: 'Go back, change nothing',
  keep: (orphans: readonly OrphanedThing[]) =>
    orphans.length === 1 ? 'Go on, it stays on record' : 'Go on, they stay on record',
} as const
