import { unreachable } from '../base/assert.ts'
import type { Evidence, LocateAnswer, NullingAnswer, ReadingAnswer, SuspectGroup } from '../model/answers.ts'
import { formatGiveOrTake, formatRoughOhm, formatSignedOhm } from './ohms.ts'
import type { NameBook } from './places.ts'
import { formatRead, readingNumber } from './evidenceText.ts'
import { nameReadingPlace } from './readingPlace.ts'
import { nameGroup } from './suspectText.ts'
import { capital, formatChance, formatCounted, inWords } from './units.ts'
import { printable } from './where.ts'

/** One reading: what it read, what was expected, what is likely behind it, and what to do about it. */
export function describeReading(answer: LocateAnswer, index: number, book: NameBook): string {
  const reading = answer.readings[index]
  const head = `Reading ${index + 1}, ${nameReadingPlace(book, reading)}`
  return `${head}: ${describeVerdict(answer, reading, book)}`
}

/** The same without the number and the place, for a list that has them beside it. */
export function describeVerdict(answer: LocateAnswer, reading: ReadingAnswer, book: NameBook): string {
  const { read, expected } = besides(answer, reading)
  const { spoilt, tooLow, repeat } = waysOf(reading)
  switch (reading.verdict) {
    case 'inLine':
      return `read ${read}, in line with the ${expected} expected.`
    case 'highBySuspect':
      return describeHigh(answer, reading, book)
    case 'poorContact':
      return describePoorContact(answer, reading, book)
    case 'highUnexplained':
      return (
        `reads ${read} where ${expected} is expected, and neither a joint nor ${spoilt} explains it well. ` +
        `${repeat}${describeRepeats(answer, reading)}`
      )
    case 'tooLow':
      return (
        `reads ${read} where ${expected} is expected: lower than the network can read` +
        `${reading.tooLowProbability < 0.05 ? '' : ` (${formatChance(reading.tooLowProbability)} likely a mistake)`}. ${tooLow}`
      )
    case 'overRange':
      return describeOverRange(answer, reading, book)
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
  const contact =
    reading.poorContactProbability >= 0.05
      ? ` ${capital(waysOf(reading).spoilt)} remains possible (${formatChance(reading.poorContactProbability)}).`
      : ''
  const explained = describeExplained(answer, reading, book)
  return `reads ${read} where ${expected} is expected.${explained}${contact}${describeRepeats(answer, reading)}`
}

/** What the reading should be with those suspects bad that its current crosses; nothing where there is none. */
function describeExplained(answer: LocateAnswer, reading: ReadingAnswer, book: NameBook): string {
  const crossed = crossedBy(answer, reading, 0.2)
  const named = crossed.length > 0 ? crossed : answer.groups.slice(0, 1)
  return named.length > 0 ? ` ${withBad(named, reading, book)}.` : ''
}

function withBad(groups: readonly SuspectGroup[], reading: ReadingAnswer, book: NameBook): string {
  const names = inWords(groups.map((group) => nameGroup(group, book)))
  return `With ${names} bad, ${formatRoughOhm(reading.expectedWithSuspectOhm)} is expected`
}

/** The suspects of at least some chance that a reading's current crosses, three at most. */
function crossedBy({ groups }: LocateAnswer, { entry }: ReadingAnswer, least: number): SuspectGroup[] {
  return groups
    .filter(
      ({ probability, evidence }) =>
        probability >= least && evidence.some((one) => one.entry === entry && wouldRaise(one)),
    )
    .slice(0, 3)
}

/** Whether a group that is bad moves this reading by more than its numbers are rounded to. */
function wouldRaise({ share, expectedSoundOhm, expectedIfBadOhm }: Evidence): boolean {
  return Math.abs(share) >= 0.05 && expectedIfBadOhm > 1.1 * expectedSoundOhm
}

/** A broken lead, a clip that came off or open jaws read the same as an open joint: they come first. */
function describeOverRange(answer: LocateAnswer, reading: ReadingAnswer, book: NameBook): string {
  const { expected } = besides(answer, reading)
  const chance = formatChance(reading.poorContactProbability)
  const head = `over range where ${expected} is expected.`
  const repeats = describeRepeats(answer, reading)
  const isSpoilt = reading.poorContactProbability > 0.5
  const explained =
    !isSpoilt && reading.expectedWithSuspectOhm === Infinity ? describeExplained(answer, reading, book) : ''
  switch (reading.method) {
    case 'loopClamp':
      return (
        `${head}${explained} Check first that the jaws were clean and closed fully` +
        `${isSpoilt ? ` (${chance} likely that they were not)` : ''}; if they were, some joint of the loop is open.` +
        repeats
      )
    case 'earthElectrode':
      return (
        `${head}${explained} Check the clip at the electrode, the leads and the test stakes first` +
        `${isSpoilt ? ` (${chance} likely one of them)` : ''}: they read the same as an open joint.${repeats}`
      )
    case 'twoWire':
    case 'fourWire':
      return isSpoilt
        ? `${head} Lead or far-end clip first: a broken lead or a clip that came off explains it best (${chance})` +
            `${describeRun(answer, reading)}. Short the leads at their far end and read them before any joint is ` +
            `blamed.${repeats}`
        : `${head}${explained} Check the far-end clip and the lead first: a fallen clip or a broken lead reads the ` +
            `same as an open joint.${repeats}`
  }
}

/** Over-range readings that follow each other with the same kit. */
function describeRun({ readings }: LocateAnswer, reading: ReadingAnswer): string {
  const counted = readings.filter(({ verdict, kit }) => verdict !== 'setAside' && kit === reading.kit)
  const at = counted.indexOf(reading)
  const isOver = ({ overRange, poorContactProbability }: ReadingAnswer) =>
    overRange && poorContactProbability > 0.5
  let [first, last] = [at, at]
  while (first > 0 && isOver(counted[first - 1])) first--
  while (last < counted.length - 1 && isOver(counted[last + 1])) last++
  if (first === last) return ''
  const [from, to] = [first, last].map((k) => readings.indexOf(counted[k]) + 1)
  return `, as it does all of readings ${from} to ${to}, which followed each other`
}

function describePoorContact(answer: LocateAnswer, reading: ReadingAnswer, book: NameBook): string {
  const { read, expected } = besides(answer, reading)
  const { spoilt, repeat } = waysOf(reading)
  const repeats = describeRepeats(answer, reading)
  return (
    `${spoilt.replace(/^a /, '')} probable (${formatChance(reading.poorContactProbability)}). It reads ${read} where ` +
    `${expected} is expected${describeBecause(answer, reading, book)}.${repeats || ` ${repeat}`}`
  )
}

/** Why the reading itself is blamed, and no joint: or for the rest, where a joint that it crosses is bad anyway. */
function describeBecause(answer: LocateAnswer, reading: ReadingAnswer, book: NameBook): string {
  const { spoilt } = waysOf(reading)
  const { readOhm, expectedOhm, spreadOhm, expectedWithSuspectOhm } = reading
  const isPart = expectedWithSuspectOhm > expectedOhm + spreadOhm && expectedWithSuspectOhm < (readOhm ?? 0)
  const bad = isPart ? crossedBy(answer, reading, 0.5) : []
  if (bad.length > 0)
    return `. ${withBad(bad, reading, book)}; ${spoilt} explains the rest better than another bad joint`
  const against = contradictors(answer, reading)
  return against.length > 0
    ? `, and no joint explains it without contradicting ${nameReadings(against)}`
    : `, and ${spoilt} explains that better than a bad joint`
}

/** Readings that speak against every joint which this one speaks for, strongest first, at most four. */
function contradictors(answer: LocateAnswer, reading: ReadingAnswer): number[] {
  const found = new Map<number, number>()
  for (const { evidence } of answer.groups) {
    if (!evidence.some((one) => one.entry === reading.entry && wouldExplain(one))) continue
    const against = evidence.filter(({ bits }) => bits < -0.3)
    if (against.length === 0) return []
    for (const { entry, bits } of against) {
      const number = readingNumber(answer, entry)
      if (number !== null) found.set(number, Math.min(bits, found.get(number) ?? 0))
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
      return `for what it was taken at has no path to ${book.words.remoteEarth} as drawn, so nothing is expected of it.`
    case 'noSuchPart':
      return reading.method === 'loopClamp'
        ? 'for the drawing has no such joint. Check the address, or draw what is there.'
        : 'for the drawing has no such part. Check the address, or draw what is there.'
    case 'samePart':
      return 'for both ends are the same part.'
    case 'kitNotFit':
      return `for the kit ${printable(reading.kit)} is not fit for bonds: its test current is too small.`
    case 'unknownKit':
      return `for the kit ${printable(reading.kit)} is not described in its visit. Add it there.`
    case 'loopClamp':
      return 'for it was not noted which joint was in the jaws of the loop clamp.'
    case null:
      return 'without a reason on record.'
  }
}

/** What can be wrong with a reading itself, in the words of how it was taken. */
interface Ways {
  readonly spoilt: string
  readonly tooLow: string
  readonly repeat: string
}

function waysOf({ method }: ReadingAnswer): Ways {
  switch (method) {
    case 'twoWire':
    case 'fourWire':
      return {
        spoilt: 'a poor contact',
        tooLow:
          'Check that the clips were not both on one part or on a neighbouring table, and that the leads were not ' +
          'nulled too far; then repeat it.',
        repeat: 'Take the clips off, seat them on bare metal and repeat it.',
      }
    case 'loopClamp':
      return {
        spoilt: 'a poor contact of the jaws',
        tooLow:
          'Check that the jaws were closed round this joint alone, and look for a path beside it that is not drawn; ' +
          'then repeat it.',
        repeat: 'Wipe the faces of the jaws, close them fully round this joint alone and repeat it.',
      }
    case 'earthElectrode':
      return {
        spoilt: 'a poor contact at the electrode or a test stake',
        tooLow:
          'Check how far off the test stakes stood, and what else was bonded to the electrode; then repeat it.',
        repeat: 'Check the clip at the electrode and how far off the test stakes stand, and repeat it.',
      }
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
