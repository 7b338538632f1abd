import type { ExpectAnswer, ReadingAnswer } from '../model/answers.ts'
import type { Kit, Lead, OhmOrOver, Spot } from '../model/schema/record.ts'
import { formatClock, formatDay, isSameDay } from './days.ts'
import { formatInstant } from './instants.ts'
import { formatOhm, formatReadOhm, formatRoughOhm, sharedOhmUnit } from './ohms.ts'
import { describePath } from './pathText.ts'
import type { NameBook } from './places.ts'
import { formatCounted, formatLength, type Units } from './units.ts'
import { printable, quoted } from './where.ts'

/** Sentences of the form in which a pair is linked and its reading entered. */
export const entryTexts = {
  faulty: 'Nothing can be measured on this drawing',
  faultyHelp:
    'The readings that are on record stay. Undo the last change of the drawing, or open the file again.',
  oneMore: 'Enter it once more to leave it as it is.',
  howToLink:
    'Choose where the pair begins and ends: link two parts on the map, use “Link from here” of a part, or type ' +
    'an address such as R3/T7/F2.14.',
  firstPart: 'Choose the first part on the map, then the second.',
  fromFirst: 'Say where the pair begins first. What you typed here stays.',
  noSite: 'Open a site first.',
  bothEnds: 'Choose both ends of the pair first.',
  noKit: 'The visit has no instrument that reads a pair. Open a visit with one.',
  samePart: 'Both ends are the same part. Choose another one.',
  readOnly:
    'This site can only be looked at here, because another tab holds it. Take it over to enter readings.',
  needsOhms: 'Type what the instrument shows, such as 0.03, 0,03 or 30m, or switch to over range.',
  negative: 'A resistance is not less than zero. If the instrument shows less, its leads are nulled too far.',
  overHint: 'The instrument shows no value, only that its range ends.',
  computing: 'Working out what a sound array reads here.',
  noAnswer: 'What a sound array reads here could not be worked out.',
  noVisit:
    'No visit is open yet. With the first reading one is opened, with a two-wire instrument of 200 mA and 50 m of ' +
    '1.5 mm² lead.',
  notNulled:
    'The leads have not been nulled in this visit, so all of their ohms count as being in the reading. Null them ' +
    'with the clips shorted at the far end, then say so with “Nulled now”.',
  nulledNow: 'Nulling entered: readings from here on count as nulled.',
  leftUnnulled: 'Taken as not nulled: all ohms of the leads count as being in the readings.',
  fromBefore: 'Kept from before: this was typed when the page ended, and is not entered yet.',
  nullingFirst: 'Say first whether the leads are nulled.',
  leftHand: 'Keys for the left hand: Enter on the left',
  wrongUnit: 'That is far less than any bond reads. Was it meant in ohms?',
} as const

/** Parts of a milliohm, typed for an instrument whose steps are whole milliohms or more. */
export function describePartOfStep(kit: Kit): string {
  return `This instrument shows steps of ${formatOhm(kit.resolutionOhm)}, no parts of 1 mΩ. Was it meant in ohms?`
}

/** A value above what the instrument can show. */
export function describeBeyondKit(kit: Kit): string {
  return (
    `${quoted(kit.name)} shows over range above ${formatOhm(kit.mostOhm)}. Check the value and its unit, or ` +
    `switch to over range.`
  )
}

/** What an instrument reads. */
export function nameKitMethod({ method }: Pick<Kit, 'method'>): string {
  switch (method) {
    case 'loopClamp':
      return 'reads a loop'
    case 'earthElectrode':
      return 'reads an electrode'
    case 'twoWire':
      return 'two-wire'
    case 'fourWire':
      return 'four-wire'
  }
}

/** A lead as the list of leads has it. */
export function nameLead(lead: Lead, units: Units): string {
  const name = printable(lead.name).trim() || printable(lead.id)
  return `${name}, ${formatLength(lead.lengthM, units)} of ${lead.areaMm2} mm²`
}

export const spotNames: Readonly<Record<Spot['spot'], string>> = {
  face: 'face',
  cutEdge: 'cut edge',
  boltHead: 'bolt head',
  lug: 'lug',
  conductor: 'conductor',
  stud: 'stud',
  unknown: 'not noted',
}

export const surfaceNames: Readonly<Record<Spot['surface'], string>> = {
  bare: 'bare metal',
  coated: 'coated',
  pierced: 'coating pierced',
}

/** What to know of a spot before it is read at; null where there is nothing. */
export function describeSpot({ spot, surface }: Omit<Spot, 'part'>): string | null {
  if (surface === 'coated') return 'A coating insulates the clip: pierce it, or take bare metal.'
  if (spot === 'boltHead')
    return 'A clip on a bolt head passes by the joint that the bolt makes: clip on the metal on the far side of it.'
  return null
}

/** What a sound array would read, before anyone has measured. */
export function describeExpected(answer: ExpectAnswer, book: NameBook): string {
  if (answer.path === 'none') return describePath('none', book.words)
  const unit = sharedOhmUnit([answer.expectedOhm])
  const value = `${formatOhm(answer.expectedOhm, unit)} give or take ${formatRoughOhm(answer.spreadOhm, unit)}`
  const soil = answer.path === 'soilOnly' ? ` ${describePath('soilOnly', book.words)}` : ''
  const range = answer.beyondRange ? ' That is beyond the range of the instrument.' : ''
  return `A sound array reads ${value} here.${range}${soil}`
}

/** The level from which a pair is investigated, with where it comes from; null where no criterion applies. */
export function describeCriterion({ criterion }: ExpectAnswer, book: NameBook): string | null {
  if (criterion.criterion === null || criterion.investigateOhm === null) return null
  const drawn = book.drawing.criteria.find(({ id }) => id === criterion.criterion)
  const name = drawn ? quoted(drawn.name) : printable(criterion.criterion)
  // the first words of a source name it; what it says at length stands in the criterion itself
  const source = printable(drawn?.source ?? '').split(/[:;.](?:\s|$)/, 1)[0]
  const from = source === '' ? '' : `, ${source}`
  return `More than ${formatOhm(criterion.investigateOhm)} is to be investigated (criterion ${name}${from}).`
}

/** Said at once; what the reading means follows with the ranking. */
export function describeEntered(number: number | null): string {
  return `Reading${number === null ? '' : ` ${number}`} entered. What it says follows with the new ranking.`
}

/** What is typed, as it will stand in the record. */
export function describeTyped(result: OhmOrOver): string {
  return `Enters ${describeResult(result)}.`
}

/** A bare number as it would be in a unit: `12 mΩ`. */
export function describeInUnit(text: string, unit: 'Ω' | 'mΩ'): string {
  return `${printable(text.trim(), 30)} ${unit}`
}

/** Asked once where a number is about what is expected in the other unit alone. */
export function describeOtherUnit(
  text: string,
  unit: 'Ω' | 'mΩ',
  other: 'Ω' | 'mΩ',
  expected: Pick<ExpectAnswer, 'expectedOhm'> | null,
): string {
  const about = expected ? ` About ${formatOhm(expected.expectedOhm)} is expected here.` : ''
  return `${describeInUnit(text, unit)} or ${describeInUnit(text, other)}?${about}`
}

/** Where a pair that is being linked begins, and what is to be chosen next. */
export function describeFirstEnd(name: string): string {
  return `From: ${name}. Now the second part.`
}

/** A visit of another day is over: what the next reading opens. */
export function describeOldVisit(at: string, now: string): string {
  return (
    `The last visit was on ${formatDay(at, now)}. With the first reading a new one is opened, with the same ` +
    `instruments and leads.`
  )
}

/** Leads that were nulled too long ago, or in an earlier visit; null where they never were. */
export function describeOldNulling(at: string | null, now: string): string {
  if (at === null) return 'Have the leads been nulled?'
  const when = isSameDay(at, now) ? `at ${formatClock(at)}` : `on ${formatDay(at, now)}`
  return `Leads were last nulled ${when}: null them again, with the clips shorted at the far end.`
}

/** Whether the leads are nulled, since when, and how much was read since. */
export function describeNulled(at: string | null, readingsSince: number): string {
  if (at === null) return 'Leads not nulled in this visit.'
  const since =
    readingsSince === 0 ? 'nothing read since' : `${formatCounted(readingsSince, 'reading')} since`
  return `Leads nulled ${formatInstant(at)}, ${since}.`
}

/** The ends of a repeat, said above the form. */
export function describeRepeating(number: number): string {
  return `This measures the pair of reading ${number} again: take the clips off, seat them again on bare metal, then read.`
}

/** Expected and read side by side, for the row of a list. */
export function describeRow(reading: ReadingAnswer | undefined): string {
  if (!reading || reading.verdict === 'setAside') return ''
  return Number.isFinite(reading.expectedOhm)
    ? `expected ${formatOhm(reading.expectedOhm)}`
    : 'no path expected'
}

/** What a reading says, in a row of a list. */
export function describeResult(result: OhmOrOver): string {
  return result.form === 'ohm' ? formatReadOhm(result.ohm) : formatReadOhm(null, result.atLeastOhm)
}
