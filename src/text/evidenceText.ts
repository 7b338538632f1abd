import type { Evidence, LocateAnswer, ReadingAnswer, SuspectGroup } from '../model/answers.ts'
import { finestStepOhm, formatGiveOrTake, formatReadOhm, formatRoughOhm } from './ohms.ts'
import type { NameBook } from './places.ts'
import { isPair, nameReadingPlace } from './readingPlace.ts'
import { formatBits, formatCounted, formatShare } from './units.ts'

/** Less than this is next to nothing: one in five more likely, or less. */
const leastBits = 0.3
/** From here on a reading speaks clearly: four times as likely one way as the other. */
const clearBits = 2
/** And from here on strongly: thirty-two times. */
const strongBits = 5

export type Leaning = 'for' | 'against' | 'neither'

/** Which way a reading leans; `neither` where it says next to nothing. */
export function leaningOf({ bits }: Pick<Evidence, 'bits'>): Leaning {
  if (Math.abs(bits) < leastBits) return 'neither'
  return bits > 0 ? 'for' : 'against'
}

/** Whether a reading says anything worth a line of its own about a group. */
export function isTelling(evidence: Evidence): boolean {
  return leaningOf(evidence) !== 'neither'
}

/** Whether a reading speaks against a group as strongly as words go. */
export function speaksStronglyAgainst({ bits }: Evidence): boolean {
  return bits <= -strongBits
}

/** `speaks strongly for it`, `speaks weakly against it`, `says nothing about it`. */
export function describeBits(bits: number): string {
  const leaning = leaningOf({ bits })
  if (leaning === 'neither') return 'says nothing about it'
  return `speaks ${howMuch(bits)} ${leaning} it`
}

function howMuch(bits: number): string {
  const magnitude = Math.abs(bits)
  if (magnitude >= strongBits) return 'strongly'
  return magnitude >= clearBits ? 'clearly' : 'weakly'
}

/** What says most first, whichever way; what says nothing last, by the share of its current that crosses the group. */
export function strongestFirst({ evidence }: SuspectGroup): readonly Evidence[] {
  const weight = (one: Evidence) => (isTelling(one) ? Math.abs(one.bits) : 0)
  return [...evidence].sort((a, b) => weight(b) - weight(a) || Math.abs(b.share) - Math.abs(a.share))
}

/** Readings are called by their place in the record, counted from 1; null for an entry that is not there. */
export function readingNumber(answer: LocateAnswer, entry: string): number | null {
  const index = answer.readings.findIndex((reading) => reading.entry === entry)
  return index < 0 ? null : index + 1
}

/** Whether a reading was taken between two parts, and not round a joint or to earth. */
export function isReadBetween({ readings }: LocateAnswer, entry: string): boolean {
  const reading = readings.find((one) => one.entry === entry)
  return reading !== undefined && isPair(reading)
}

/** What one reading was, as its meter can show it: zeros of a meter with steps of 10 mΩ are `below 10 mΩ`. */
export function formatRead(answer: LocateAnswer, { readOhm, kit }: ReadingAnswer): string {
  const withKit = answer.readings.filter((other) => other.kit === kit)
  return formatReadOhm(readOhm, null, finestStepOhm(withKit.map((other) => other.readOhm)))
}

/** What the meter should show for a piece of evidence, clips and what is left in the lead included. */
export interface OnMeter {
  readonly soundOhm: number
  readonly spreadOhm: number
  readonly ifBadOhm: number
  /** Other suspects that are bad move the reading: `soundOhm` is with those bad and this one sound. */
  readonly isBesideOthers: boolean
}

/**
 * Evidence is weighed by what the network and clips come to; what the readings say of the lead is added here, so
 * that the same reading has one expected value wherever it is told of, unless other suspects move it too.
 */
export function onMeter(reading: ReadingAnswer | undefined, evidence: Evidence): OnMeter {
  const { expectedSoundOhm, expectedIfBadOhm } = evidence
  if (!reading || !Number.isFinite(reading.expectedOhm))
    return {
      soundOhm: expectedSoundOhm,
      spreadOhm: Infinity,
      ifBadOhm: expectedIfBadOhm,
      isBesideOthers: false,
    }
  const { expectedOhm, spreadOhm, leadOffsetOhm } = reading
  const isBesideOthers =
    expectedSoundOhm + leadOffsetOhm - expectedOhm > Math.max(spreadOhm, 0.1 * expectedOhm)
  const leftOhm = isBesideOthers ? leadOffsetOhm : expectedOhm - expectedSoundOhm
  return {
    soundOhm: isBesideOthers ? expectedSoundOhm + leftOhm : expectedOhm,
    spreadOhm,
    ifBadOhm: expectedIfBadOhm + leftOhm,
    isBesideOthers,
  }
}

export interface EvidenceText {
  /** `Reading 12`. */
  readonly reading: string
  /** Where it was taken: between two parts, round a joint, of an electrode. */
  readonly place: string
  readonly leaning: Leaning
  /** `speaks strongly for it`. */
  readonly weight: string
  /** `15 bits`: a detail for those who reckon with it. */
  readonly bits: string
  /** What it read and what the meter should show with sound joints and with a bad one. */
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
  const { bits, readOhm } = evidence
  const number = readingNumber(answer, evidence.entry)
  const reading = number === null ? undefined : answer.readings[number - 1]
  const { soundOhm, spreadOhm, ifBadOhm, isBesideOthers } = onMeter(reading, evidence)
  const [which, thisOne] = group.jointCount === 1 ? ['it', 'this one'] : ['one of them', 'these']
  const state = isOfOpen(group, evidence) ? 'open' : 'raised'
  const read = reading ? formatRead(answer, reading) : formatReadOhm(readOhm)
  const others = answer.groups.filter((other) => other !== group && other.probability >= 0.5)
  const isOneOther = others.length === 1
  return {
    reading: number === null ? 'A reading' : `Reading ${number}`,
    place: reading ? nameReadingPlace(book, reading) : '',
    leaning: leaningOf(evidence),
    weight: describeBits(bits),
    bits: formatBits(bits),
    numbers: isBesideOthers
      ? `Read ${read}. With the other suspect${isOneOther ? '' : 's'} bad and ${thisOne} sound the meter should show ` +
        `${formatRoughOhm(soundOhm)}; with ${which} ${state} too, ${formatRoughOhm(ifBadOhm)}.`
      : `Read ${read}. With sound joints the meter should show ${formatGiveOrTake(soundOhm, spreadOhm)}; ` +
        `with ${which} ${state}, ${formatRoughOhm(ifBadOhm)}.`,
    share: describeShare(group, evidence),
  }
}

/** Whether the likeliest state that a reading is held against has the joint open: by no more than it gained can it rise. */
function isOfOpen({ openProbability, addedOhm }: SuspectGroup, evidence: Evidence): boolean {
  const riseOhm = evidence.expectedIfBadOhm - evidence.expectedSoundOhm
  return openProbability >= 0.5 || addedOhm === null || riseOhm > 2 * addedOhm.high
}

/** A reading past which the current flows may still bear on a joint, by what it says of the others. */
function describeShare(group: SuspectGroup, evidence: Evidence): string {
  const share = Math.abs(evidence.share)
  const crosses = `${formatShare(share)} of its current crosses ${group.jointCount === 1 ? 'the joint' : 'them'}`
  return share < 0.01 && isTelling(evidence)
    ? `${crosses}; it bears on it by the level of joints and leads that all readings share.`
    : `${crosses}.`
}

/** The same as one text, with the bits. */
export function describeOneEvidence(
  answer: LocateAnswer,
  group: SuspectGroup,
  evidence: Evidence,
  book: NameBook,
): string {
  const { reading, place, numbers, share, weight, bits } = evidenceText(answer, group, evidence, book)
  const head = place === '' ? reading : `${reading}, ${place}`
  const inBits = isTelling(evidence) ? ` (${bits})` : ''
  return `${head}: ${weight}${inBits}. ${numbers} ${share}`
}

/** Above a list of evidence: `2 readings for it, 5 against`. */
export function evidenceCount({ evidence }: SuspectGroup): string {
  const count = (wanted: Leaning) => evidence.filter((one) => leaningOf(one) === wanted).length
  return `${formatCounted(count('for'), 'reading')} for it, ${count('against')} against`
}

/** The readings that say nothing about a group, for the head of their fold; null where there are none. */
export function silentCount({ evidence }: SuspectGroup): string | null {
  const silent = evidence.filter((one) => !isTelling(one)).length
  if (silent === 0) return null
  return `${formatCounted(silent, 'reading')} that ${silent === 1 ? 'says' : 'say'} nothing about it`
}

/** How far a suspect moves the readings that its current crosses, at most, as far as they were read; null without one. */
export function mostReadRiseOhm({ evidence }: SuspectGroup): number | null {
  const rises = evidence.flatMap(({ share, readOhm, expectedSoundOhm }) =>
    Math.abs(share) >= 0.05 && readOhm !== null ? [readOhm - expectedSoundOhm] : [],
  )
  return rises.length === 0 ? null : Math.max(...rises)
}
