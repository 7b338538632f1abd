import { unreachable } from '../base/assert.ts'
import type { Evidence, LocateAnswer, NullingAnswer, ReadingAnswer } from '../model/answers.ts'
import { formatGiveOrTake, formatRoughOhm, formatSignedOhm } from './ohms.ts'
import { namePair } from './partNames.ts'
import type { NameBook } from './places.ts'
import { formatRead, readingNumber } from './evidenceText.ts'
import { nameGroup } from './suspectText.ts'
import { formatChance, formatCounted, inWords } from './units.ts'
import { printable } from './where.ts'

/** One reading: what it read, what was expected, what is likely behind it, and what to do about it. */
export function describeReading(answer: LocateAnswer, index: number, book: NameBook): string {
  const reading = answer.readings[index]
  const head = `Reading ${index + 1}, ${namePair(book, reading.from, reading.to)}`
  return `${head}: ${describeVerdict(answer, reading, book)}`
}

/** The same without the number and the pair, for a list that has them beside it. */
export function describeVerdict(answer: LocateAnswer, reading: ReadingAnswer, book: NameBook): string {
  const { read, expected } = besides(answer, reading)
  switch (reading.verdict) {
    case 'inLine':
      return `read ${read}, in line with the ${expected} expected.`
    case 'highBySuspect':
      return describeHigh(answer, reading, book)
    case 'poorContact':
      return describePoorContact(answer, reading)
    case 'highUnexplained':
      return (
        `reads ${read} where ${expected} is expected, and neither a joint nor a poor contact explains it well. ` +
        `Take the clips off, seat them on bare metal and repeat it.${describeRepeats(answer, reading)}`
      )
    case 'tooLow':
      return (
        `reads ${read} where ${expected} is expected: lower than the network can read ` +
        `(${formatChance(reading.tooLowProbability)} likely a mistake). Check that the clips were not both on one ` +
        `part or on a neighbouring table, and that the leads were not nulled too far; then repeat it.`
      )
    case 'overRange':
      return (
        `over range where ${expected} is expected. Check the far-end clip and the lead first: a fallen clip or a ` +
        `broken lead reads the same as an open joint.${describeRepeats(answer, reading)}`
      )
    case 'noMetalPath':
      return reading.readOhm === null
        ? 'over range, and no metal path joins the two as drawn.'
        : `no metal path joins the two as drawn; the ${read} that it read goes through soil or metal that is ` +
            `not in the drawing. It is no bond, whatever it reads.`
    case 'setAside':
      return `set aside, ${describeSetAside(reading, book)}`
    default:
      return unreachable(reading.verdict)
  }
}

function describeHigh(answer: LocateAnswer, reading: ReadingAnswer, book: NameBook): string {
  const { read, expected } = besides(answer, reading)
  const first = answer.groups[0]
  const explained = first
    ? ` With ${nameGroup(first, book)} bad, ${formatRoughOhm(reading.expectedWithSuspectOhm)} is expected.`
    : ''
  const contact =
    reading.poorContactProbability >= 0.05
      ? ` A poor contact remains possible (${formatChance(reading.poorContactProbability)}).`
      : ''
  return `reads ${read} where ${expected} is expected.${explained}${contact}${describeRepeats(answer, reading)}`
}

function describePoorContact(answer: LocateAnswer, reading: ReadingAnswer): string {
  const { read, expected } = besides(answer, reading)
  const against = contradictors(answer, reading)
  const repeats = describeRepeats(answer, reading)
  const because =
    against.length > 0
      ? `, and no joint explains it without contradicting ${nameReadings(against)}`
      : ', and a poor contact explains that better than a bad joint'
  return (
    `poor contact probable (${formatChance(reading.poorContactProbability)}). It reads ${read} where ${expected} ` +
    `is expected${because}.${repeats || ' Seat the clips on bare metal and repeat it.'}`
  )
}

/** Readings that speak against every joint which this one speaks for, strongest first, at most four. */
function contradictors(answer: LocateAnswer, reading: ReadingAnswer): number[] {
  const found = new Map<number, number>()
  for (const { evidence } of answer.groups) {
    if (!evidence.some((one) => one.entry === reading.entry && wouldExplain(one))) continue
    for (const { entry, bits } of evidence) {
      const number = readingNumber(answer, entry)
      if (bits < -0.3 && number !== null) found.set(number, Math.min(bits, found.get(number) ?? 0))
    }
  }
  const strongest = [...found].sort((a, b) => a[1] - b[1]).slice(0, 4)
  return strongest.map(([number]) => number).sort((a, b) => a - b)
}

/** A joint that carries next to none of a reading's current does not explain it, whatever they have in common. */
function wouldExplain({ bits, share }: Evidence): boolean {
  return bits >= 1 && Math.abs(share) >= 0.05
}

function nameReadings(numbers: readonly number[]): string {
  return `${numbers.length === 1 ? 'reading' : 'readings'} ${inWords(numbers.map(String))}`
}

/** What repeats of the same pair read: later ones, and the one that this reading repeats itself. */
function describeRepeats(answer: LocateAnswer, reading: ReadingAnswer): string {
  const later = answer.readings.flatMap((other, k) =>
    other.repeats === reading.entry
      ? [` The repeat after re-seating (reading ${k + 1}) read ${formatRead(answer, other)}.`]
      : [],
  )
  const number = reading.repeats === null ? null : readingNumber(answer, reading.repeats)
  const earlier =
    number === null
      ? ''
      : ` It repeats reading ${number}, which read ${formatRead(answer, answer.readings[number - 1])}.`
  return earlier + later.join('')
}

function describeSetAside(reading: ReadingAnswer, book: NameBook): string {
  switch (reading.setAside) {
    case 'withdrawn':
      return 'for it was withdrawn.'
    case 'beforeRepair':
      return 'for it was taken before a repair on its path.'
    case 'electrodeTest':
      return `for it measures an electrode against ${book.words.remoteEarth}, which is another quantity than a bond.`
    case 'noSuchPart':
      return 'for the drawing has no such part. Check the address, or draw what is there.'
    case 'samePart':
      return 'for both ends are the same part.'
    case 'kitNotFit':
      return `for the kit ${printable(reading.kit)} is not fit for bonds: its test current is too small.`
    case 'unknownKit':
      return `for the kit ${printable(reading.kit)} is not described in its visit. Add it there.`
    case 'loopClamp':
      return 'for it was read with a loop clamp, which measures a loop and not a pair.'
    case null:
      return 'without a reason on record.'
  }
}

function besides(answer: LocateAnswer, reading: ReadingAnswer) {
  return {
    read: formatRead(answer, reading),
    expected: formatGiveOrTake(reading.expectedOhm, reading.spreadOhm),
  }
}

/** What the readings say of the offset that one nulling left in the leads. */
export function describeNulling(nulling: NullingAnswer, number: number): string {
  const lead = nulling.lead === null ? '' : `, lead ${printable(nulling.lead)}`
  const which = nulling.entry === null ? 'Readings without a nulling' : `Nulling ${number}`
  const bound = `${formatSignedOhm(nulling.offsetOhm)} give or take ${formatRoughOhm(nulling.offsetSdOhm)}`
  const isOdd = Math.abs(nulling.offsetOhm) > 2 * nulling.offsetPriorSdOhm
  return (
    `${which}, kit ${printable(nulling.kit)}${lead} (${formatCounted(nulling.readings, 'reading')}): ` +
    `left in the leads ${bound}.` +
    (isOdd ? ' That is more than nulling leaves as a rule: short the leads at their far end and check.' : '')
  )
}
