import type { Evidence, LocateAnswer, ReadingAnswer, ReadingVerdict, SuspectGroup } from '../model/answers.ts'
import { formatOhm, formatRoughOhm, sharedOhmUnit } from './ohms.ts'
import { namePair } from './partNames.ts'
import { nameRow, nameTable, type NameBook } from './places.ts'
import { readingNumber } from './suspectText.ts'
import { formatBits, formatChance, formatCounted, formatShare } from './units.ts'

/** What to do where there is nothing to rank yet. */
export const locateEmpty = {
  noSite: 'No site is open. Open one from the list of sites, or start with a demo.',
  noReadings:
    'No reading has been taken here yet, so no joint can be suspected. Go to Measure, link two parts of the map ' +
    'into a pair and type what the meter shows.',
  noAnswer: 'No ranking could be computed for this site.',
} as const

/** The bits from which on a reading counts as speaking for or against: below, it says next to nothing. */
const leastBits = 0.3

export interface EvidenceText {
  /** `Reading 12`. */
  readonly reading: string
  readonly pair: string
  readonly leaning: 'for' | 'against' | 'neither'
  /** `for it, 9.2 bits`. */
  readonly weight: string
  /** What it read and what sound and bad joints would have it read, in one unit. */
  readonly numbers: string
  readonly share: string
}

/** What one reading says about a group, in pieces for a row of a list. */
export function evidenceText(
  answer: LocateAnswer,
  group: SuspectGroup,
  evidence: Evidence,
  book: NameBook,
): EvidenceText {
  const { bits, share, readOhm, expectedSoundOhm, expectedIfBadOhm } = evidence
  const number = readingNumber(answer, evidence.entry)
  const reading = number === null ? undefined : answer.readings[number - 1]
  const unit = sharedOhmUnit([readOhm, expectedSoundOhm, expectedIfBadOhm])
  const read = readOhm === null ? 'over range' : formatOhm(readOhm, unit)
  const spread =
    reading && reading.expectedOhm === expectedSoundOhm && Number.isFinite(reading.spreadOhm)
      ? ` give or take ${formatRoughOhm(reading.spreadOhm, unit)}`
      : ''
  const state = group.openProbability >= 0.5 ? 'open' : 'raised'
  const leaning = leaningOf(bits)
  return {
    reading: number === null ? 'A reading' : `Reading ${number}`,
    pair: reading ? namePair(book, reading.from, reading.to) : '',
    leaning,
    weight: `${leaning === 'neither' ? 'says little' : `${leaning} it`}, ${formatBits(bits)}`,
    numbers:
      `Read ${read}. Sound joints: ${formatOhm(expectedSoundOhm, unit)}${spread}. ` +
      `With it ${state}: ${formatOhm(expectedIfBadOhm, unit)}.`,
    share: `${formatShare(Math.abs(share))} of its current crosses the joint.`,
  }
}

/** Whether a reading says anything worth a line of its own about a group. */
export function isTelling({ bits }: Evidence): boolean {
  return leaningOf(bits) !== 'neither'
}

function leaningOf(bits: number): EvidenceText['leaning'] {
  if (Math.abs(bits) < leastBits) return 'neither'
  return bits > 0 ? 'for' : 'against'
}

/** Above a list of evidence: `2 readings for it, 5 against, 12 that say next to nothing`. */
export function evidenceCount({ evidence }: SuspectGroup): string {
  const count = (wanted: EvidenceText['leaning']) =>
    evidence.filter(({ bits }) => leaningOf(bits) === wanted).length
  return `${formatCounted(count('for'), 'reading')} for it, ${count('against')} against, ${count('neither')} with next to nothing to say`
}

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

/** What is left for joints that are not written out. */
export function describeRest(answer: LocateAnswer, shown: number): string {
  const hidden = answer.groups.slice(shown).reduce((sum, { probability }) => sum + probability, 0)
  return `Anything not listed: ${formatChance(Math.min(1, hidden + answer.otherProbability))}.`
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
