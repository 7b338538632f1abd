import type { EntryOf, Spot } from '../model/schema/record.ts'
import { spotNames, surfaceNames } from './entryText.ts'
import { formatCount, formatCounted } from './units.ts'
import { printable, quoted } from './where.ts'

type Method = EntryOf<'reading'>['method']

/** Methods as a list has them. */
export const methodNames: Readonly<Record<Method, string>> = {
  twoWire: 'two-wire',
  fourWire: 'four-wire',
  loopClamp: 'loop clamp',
  earthElectrode: 'earth electrode',
}

const methodWords: Readonly<Record<Method, readonly string[]>> = {
  twoWire: ['twowire', '2wire', '2w', 'two', '2'],
  fourWire: ['fourwire', '4wire', '4w', 'four', '4'],
  loopClamp: ['loopclamp', 'clamp', 'loop'],
  earthElectrode: ['earthelectrode', 'electrode', 'groundelectrode', 'fallofpotential'],
}

const squeezed = (text: string) => text.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '')

/** The method that a word means; null for none. */
export function methodOf(text: string): Method | null {
  const word = squeezed(text)
  return (Object.keys(methodWords) as Method[]).find((method) => methodWords[method].includes(word)) ?? null
}

/** Where a clip sat, from a word; not noted where there is none, null where the word is not known. */
export function spotOf(text: string): Spot['spot'] | null {
  const word = squeezed(text)
  if (word === '') return 'unknown'
  const spots = Object.keys(spotNames) as Spot['spot'][]
  return spots.find((spot) => squeezed(spotNames[spot]) === word || spot.toLowerCase() === word) ?? null
}

/** The surface from a word; undefined where there is none, null where the word is not known. */
export function surfaceOf(text: string): Spot['surface'] | null | undefined {
  const word = squeezed(text)
  if (word === '') return undefined
  const surfaces = Object.keys(surfaceNames) as Spot['surface'][]
  return surfaces.find((one) => squeezed(surfaceNames[one]) === word || one === word) ?? null
}

/** What stands in the note of a reading that came from a list, after its own words. */
export function fromListNote(own: string, list: string, line: number): string {
  const tail = `from list ${quoted(list, 100)} line ${line}`
  return own === '' ? tail : `${own.slice(0, 10_000 - tail.length - 2)}; ${tail}`
}

const tailPattern = /(?:^|; )from list “([^”\n]*)” line (\d+)$/u

/** The list and line that a note names, and the words before; null where it names none. */
export function listInNote(
  note: string,
): { readonly own: string; readonly list: string; readonly line: number } | null {
  const found = tailPattern.exec(note)
  return found && { own: note.slice(0, found.index), list: found[1], line: Number(found[2]) }
}

/** The list's name as notes have it, without quotation marks that would end it. */
export function listName(fileName: string): string {
  return printable(fileName.replace(/[“”]/g, '"'), 100).trim() || 'pasted list'
}

export const readingListTexts = {
  title: 'Readings from a list',
  open: 'Readings from a list …',
  begin:
    'A list of readings as CSV, or cells copied from a spreadsheet: one line a reading, with both ends, the ohms, and whatever else ' +
    'was noted. Nothing is recorded before you have seen how it is understood.',
  choose: 'Choose a file',
  chooseOther: 'Choose another file',
  file: 'File with readings',
  drop: 'Or drop the file here.',
  paste: 'Or paste cells from a spreadsheet',
  takePasted: 'Read what is pasted',
  pastedName: 'pasted list',
  nothingPasted: 'nothing is pasted yet',
  reading: 'Reading the list',
  stop: 'Stop',
  columns: 'Which column says what',
  reads: 'How the list is read',
  target: 'Where the readings go',
  preview: 'How it will be recorded',
  none: 'not in the list',
  noSite: 'no site is open; open or begin one under Sites',
  readOnly: 'another tab holds this site',
  noFile: 'no list is chosen yet',
  busy: 'the list is still being read',
  nothing: 'no line of the list can be recorded',
  wrongFirst: 'say first what becomes of the lines that are rejected',
  faulty: 'the drawing has a fault',
  oldLetters:
    'The file is not in UTF-8; its letters were read as those of the old western code page. Look at names with accents.',
  utf16: 'The file is in UTF-16 and was read so.',
  noUnit:
    'Nothing says what unit the ohms are in. Choose it: until then, lines whose value names none are rejected.',
  noMarks:
    'Some numbers may mean two things: 1,234 is 1.234 or 1234. Choose what parts decimals: until then, those lines are rejected.',
  noOrder:
    'Days such as 5/12 may be in May or in December. Choose the order: until then, those lines are rejected.',
  zone: 'Times without a zone are taken as those of this device’s clock. A day without a time counts as its noon.',
  keepNote: 'Keep the list of them as a note of the visit',
  saveRejected: 'Save the rejected lines',
  copyRejected: 'Copy them',
  copied: 'Copied.',
  notCopied: 'The browser did not let it be copied; save them instead.',
  rejected: 'Rejected lines',
  newVisit: 'a new visit, named for the list',
  noLead: 'no long lead',
  unknownName: 'none: these lines are rejected',
  lists: 'Lists in the record',
  withdraw: 'Withdraw this list',
  withdrawNow: 'Withdraw all of it',
  keepList: 'Leave it as it is',
} as const

export const unitOptions = [
  { id: '', label: 'not said' },
  { id: 'Ω', label: 'ohms, Ω' },
  { id: 'mΩ', label: 'milliohms, mΩ' },
  { id: 'µΩ', label: 'microohms, µΩ' },
  { id: 'kΩ', label: 'kiloohms, kΩ' },
] as const

export const numberMarkOptions = [
  { id: '', label: 'not clear' },
  { id: 'point', label: 'point, 0.25' },
  { id: 'comma', label: 'comma, 0,25' },
  { id: 'pointThousands', label: 'point, and 1,234 is 1234' },
  { id: 'commaThousands', label: 'comma, and 1.234 is 1234' },
] as const

export const orderOptions = [
  { id: '', label: 'not clear' },
  { id: 'dayFirst', label: 'day first, 31/12/2031' },
  { id: 'monthFirst', label: 'month first, 12/31/2031' },
] as const

export const endsOptions = [
  { id: 'either', label: 'addresses, names or labels' },
  { id: 'addresses', label: 'addresses only, R3/T7/F2.14' },
  { id: 'names', label: 'names and labels only' },
] as const

export const firstLineOptions = [
  { id: 'headings', label: 'headings' },
  { id: 'reading', label: 'a reading' },
] as const

export const alikeOptions = [
  { id: 'same', label: 'the same reading again: left out' },
  { id: 'repeat', label: 'read again: recorded' },
] as const

/** What a column may say, as the label of a field. */
export const readingColumnWords = {
  from: 'First end',
  to: 'Second end',
  value: 'Ohms that were read',
  unit: 'Unit of the value',
  over: 'Whether over range',
  time: 'Time, or day and time',
  date: 'Day, where it stands apart',
  method: 'Method',
  instrument: 'Instrument',
  serial: 'Its serial number',
  lead: 'Lead',
  nulled: 'Whether leads were nulled',
  around: 'Joint in the jaws of a clamp',
  repeats: 'Which reading it repeats',
  number: 'Number of the reading',
  reverse: 'Ohms the other way round',
  least: 'Lowest of an unsteady value',
  most: 'Highest of an unsteady value',
  testCurrent: 'Test current, in amperes',
  fromSpot: 'Spot at the first end',
  fromSurface: 'Surface at the first end',
  toSpot: 'Spot at the second end',
  toSurface: 'Surface at the second end',
  metalC: 'Temperature of the metal, °C',
  trackerDeg: 'Angle of the tracker, degrees',
  currentSpike: 'Metres to the current spike',
  potentialSpike: 'Metres to the potential spike',
  withdrawn: 'Whether it was withdrawn',
  note: 'Note',
} as const

interface ListCounts {
  readonly readings: number
  readonly rejected: number
  readonly same: number
  readonly withdrawn: number
  readonly nullings: number
  readonly total: number
}

/** What is in the list, before anything is recorded. */
export function describeList({ readings, rejected, same, withdrawn, nullings, total }: ListCounts): string {
  const pieces = [`${formatCounted(readings, 'reading')} of ${formatCounted(total, 'line')} can be recorded.`]
  if (nullings > 0)
    pieces.push(
      `${formatCounted(nullings, 'nulling')} of leads ${nullings === 1 ? 'goes' : 'go'} with them, as the list says.`,
    )
  if (same > 0)
    pieces.push(
      `${formatCounted(same, 'line')} ${same === 1 ? 'is' : 'are'} there already, and ${same === 1 ? 'is' : 'are'} left out.`,
    )
  if (withdrawn > 0)
    pieces.push(
      `${formatCounted(withdrawn, 'line')} marked as withdrawn ${withdrawn === 1 ? 'is' : 'are'} left out.`,
    )
  if (rejected > 0)
    pieces.push(
      `${formatCounted(rejected, 'line')} ${rejected === 1 ? 'is' : 'are'} rejected: nothing is recorded until the list is mended or they are left out.`,
    )
  return pieces.join(' ')
}

/** Where a list is taken as a whole or not at all. */
export function describeAllOrNothing(rejected: number): string {
  return `${formatCounted(rejected, 'line')} ${rejected === 1 ? 'is' : 'are'} rejected: nothing is written until the list is mended.`
}

export function describeListWritten(readings: number, file: string): string {
  return `${printable(file, 200)}: the site with ${formatCounted(readings, 'reading')} more`
}

/** The button that records the list. */
export function recordListLabel(readings: number, left: number): string {
  const what = `Record ${formatCounted(readings, 'reading')}`
  return left === 0 ? what : `${what}, leave ${formatCount(left)} out`
}

export function leaveRejectedLabel(rejected: number): string {
  return rejected === 1
    ? 'Leave the rejected line out'
    : `Leave the ${formatCount(rejected)} rejected lines out`
}

export function moreRejected(count: number): string {
  return `and ${formatCount(count)} more; save them to see all`
}

export function describeRecorded(readings: number, list: string): string {
  return `${formatCounted(readings, 'reading')} recorded from list ${quoted(list, 60)}. What they say follows with the ranking.`
}

/** A list that stands in the record. */
export function describeInRecord(list: string, counted: number, withdrawn: number): string {
  const left = withdrawn === 0 ? '' : `, ${formatCount(withdrawn)} withdrawn`
  return `${quoted(list, 60)}: ${formatCounted(counted, 'reading')}${left}`
}

export function askToWithdrawList(list: string, counted: number): string {
  return (
    `${formatCounted(counted, 'reading')} of ${quoted(list, 60)} will no longer count. They stay in the record with this reason, ` +
    `and each can be counted again.`
  )
}

export function listWithdrawalReason(list: string): string {
  return `List ${quoted(list, 100)} withdrawn as a whole`
}

export function describeListWithdrawn(list: string, count: number): string {
  return `${formatCounted(count, 'reading')} of ${quoted(list, 60)} withdrawn. They stay in the record.`
}

/** The note that keeps what was left out, cut to what a note may be long. */
export function rejectedNote(list: string, lines: readonly string[], most = 10_000): string {
  const head = `Left out of list ${quoted(list, 100)}, ${formatCounted(lines.length, 'line')}:`
  let text = head
  for (const [k, line] of lines.entries()) {
    const rest = `\n… and ${formatCount(lines.length - k)} more`
    if (text.length + 1 + line.length + rest.length > most) return text + rest
    text += `\n${line}`
  }
  return text
}

/** What a visit that a list opened is for. */
export function listPurpose(list: string): string {
  return `Readings from list ${quoted(list, 100)}`
}

export function visitLabel(day: string, readings: number, purpose: string): string {
  const what = printable(purpose, 40).trim()
  return `visit of ${day}, ${formatCounted(readings, 'reading')}${what === '' ? '' : `, ${what}`}`
}

export function nameQuestion(name: string): string {
  return `${quoted(name, 40)} in the list is`
}
