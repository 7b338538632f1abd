import type { LocateAnswer, ReadingAnswer, ReadingVerdict } from '../model/answers.ts'
import { nameRow, nameTable, type NameBook } from './places.ts'
import { formatChance, formatCount, formatCounted } from './units.ts'

/** What to do where there is nothing to rank yet. */
export const locateEmpty = {
  noSite: 'No site is open. Open one from the list of sites, or start with a demo.',
  noReadings:
    'No reading has been taken here yet, so no joint can be suspected. Go to Measure, link two parts of the map ' +
    'into a pair and type what the meter shows.',
  noAnswer: 'No ranking could be computed for this site.',
} as const

/** Readings that say what is wrong with themselves, or that nothing explains: they are to be taken again. */
const doubtful: readonly ReadingVerdict[] = [
  'noMetalPath',
  'poorContact',
  'tooLow',
  'highUnexplained',
  'overRange',
]

export interface NumberedReading {
  readonly number: number
  readonly reading: ReadingAnswer
}

export function doubtfulReadings({ readings }: LocateAnswer): readonly NumberedReading[] {
  return doubtful.flatMap((verdict) => numbered(readings, (reading) => reading.verdict === verdict))
}

export function setAsideReadings({ readings }: LocateAnswer): readonly NumberedReading[] {
  return numbered(readings, ({ verdict }) => verdict === 'setAside')
}

function numbered(
  readings: readonly ReadingAnswer[],
  isWanted: (reading: ReadingAnswer) => boolean,
): readonly NumberedReading[] {
  return readings.flatMap((reading, k) => (isWanted(reading) ? [{ number: k + 1, reading }] : []))
}

/**
 * Chance that some joint is bad that is in none of the first `shown` groups. Groups are taken as independent of each
 * other, which those of different parts of the site are.
 */
export function chanceBeyond({ groups, otherProbability }: LocateAnswer, shown: number): number {
  return (
    1 - groups.slice(shown).reduce((none, { probability }) => none * (1 - probability), 1 - otherProbability)
  )
}

/** What is left for joints that are not written out, among those that the readings can show. */
export function describeRest(answer: LocateAnswer, shown: number): string {
  return (
    `Some other joint bad, of those that these readings can show: ${formatChance(chanceBeyond(answer, shown))}. ` +
    'Several joints may be bad at once, so these chances do not add up to 100 %.'
  )
}

/** Beside the chance that nothing is bad: of which joints that is said. */
export function describeNothing({ coverage }: LocateAnswer): string {
  return `None bad of the ${formatCounted(coverage.seen, 'joint')} that these readings can show`
}

/** One line for suspects that are all next to nothing. */
export function describeUnlikely(count: number): string {
  return count === 1 ? '1 more, under 1 %' : `${formatCount(count)} more, each under 1 %`
}

/** `Suspect 2 of 5: 12 % likely`; null for a joint that is not among the suspects listed. */
export function describeRank(answer: LocateAnswer, joint: string): string | null {
  const place = answer.groups.findIndex(({ joints }) => joints.some((one) => one.joint === joint))
  if (place < 0) return null
  const { joints, jointCount, probability } = answer.groups[place]
  const own = joints.find((one) => one.joint === joint)!
  const alone = `${formatChance(own.probability)} likely to be bad`
  if (jointCount === 1) return `Suspect ${place + 1} of ${answer.groups.length}: ${alone}.`
  return (
    `Suspect ${place + 1} of ${answer.groups.length}: ${alone}; with the ${formatCounted(jointCount - 1, 'joint')} ` +
    `that nothing tells apart from it, ${formatChance(probability)}.`
  )
}

export function namePlacedTable(book: NameBook, row: number, table: number): string {
  return `${nameTable(book, row, table)}, ${nameRow(book, row)}`
}
