import type { EntryOf, Kit, Lead } from '../model/schema/record.ts'
import { formatAmpere } from './criteriaText.ts'
import { formatClock, formatDay } from './days.ts'
import { nameLead } from './entryText.ts'
import { formatOhm } from './ohms.ts'
import { formatCounted, type Units } from './units.ts'
import { printable, quoted } from './where.ts'

/** Words and sentences of the card of a visit. */
export const visitTexts = {
  title: 'Visit',
  none: 'No visit of today: say who measures, and with what.',
  open: 'Open a visit',
  change: 'Change the visit',
  enterOpen: 'Open the visit',
  enterChange: 'Enter the changes',
  leave: 'Leave it as it is',
  opened: 'Visit opened.',
  amended: 'Changes of the visit entered. What was noted before stays in the record.',
  nothingNew: 'Nothing was changed.',
  mend: 'Mend what is marked first.',
  who: 'Who measures',
  whoHint: 'Names, separated by commas. Names used on this device are suggested; they stay on it.',
  purpose: 'Purpose',
  inverter: 'Inverter',
  isolators: 'Isolators',
  lockOut: 'Number of the lock or tag',
  isolation: 'How it is isolated',
  isolationHint: 'When this or the states above change, volts are asked for again.',
  weather: 'Weather',
  ambient: 'Air temperature',
  remarks: 'Remark',
  remarksHint: 'Becomes a note in the record.',
  instruments: 'Instruments',
  leads: 'Leads',
  addKit: 'Add an instrument',
  addLead: 'Add a lead',
  choose: 'choose …',
  name: 'Name',
  serial: 'Serial number',
  method: 'Method',
  current: 'Test current, A',
  resolution: 'Resolution',
  range: 'Range up to',
  percent: 'Error, ± % of the reading',
  digits: 'and ± digits',
  due: 'Calibration due',
  checkedOn: 'Last check on a known resistor',
  checkReference: 'Its ohms',
  checkRead: 'What was read',
  length: 'Length',
  size: 'Size',
  material: 'Material',
  takeOff: 'Take off the list',
  closing: 'Closing check',
  checkLead: 'Enter a lead check',
  leadHow: 'Short the clips at the far end of the lead and type what the instrument shows.',
  leadRead: 'Read with the lead shorted',
  leadEntered: 'Lead check entered.',
  needsCheck: 'Give all three of the last check, or none.',
} as const

export const inverterNames: Readonly<Record<EntryOf<'visit'>['inverter'], string>> = {
  unknown: 'not noted',
  off: 'off',
  running: 'running',
}

export const isolatorNames: Readonly<Record<EntryOf<'visit'>['isolators'], string>> = {
  unknown: 'not noted',
  open: 'open',
  closed: 'closed',
}

export const methodNames: Readonly<Record<Kit['method'], string>> = {
  twoWire: 'two-wire',
  fourWire: 'four-wire',
  loopClamp: 'loop clamp',
  earthElectrode: 'earth electrode',
}

/** The visit in one line: who, instrument, due date, lead, state. */
export function describeVisitLine(
  visit: EntryOf<'visit'>,
  kit: Kit | null,
  lead: Lead | null,
  units: Units,
): string {
  const who = visit.party.map((name) => printable(name)).join(', ')
  return [
    who === '' ? 'nobody named' : who,
    kit ? printable(kit.name) : 'no instrument for pairs',
    kit === null ? null : kit.calibrationDue === null ? 'calibration not noted' : `due ${kit.calibrationDue}`,
    lead ? nameLead(lead, units) : null,
    `inverter ${inverterNames[visit.inverter]}, isolators ${isolatorNames[visit.isolators]}`,
  ]
    .filter((part) => part !== null)
    .join(' · ')
}

export function describeOverVisit(at: string, now: string): string {
  return `The visit of ${formatDay(at, now)} is over: open one for today, filled in from it.`
}

/** Said in the card and beside every value that is entered with it. */
export function describeExpired(kit: Kit): string {
  return `Calibration of ${quoted(kit.name)} ended on ${kit.calibrationDue}.`
}

export function describeOffCheck(kit: Kit, boundOhm: number): string {
  if (!kit.lastCheck) return ''
  const { referenceOhm, readOhm, on } = kit.lastCheck
  return (
    `${quoted(kit.name)} read ${formatOhm(readOhm)} of ${formatOhm(referenceOhm)} on ${on}: further off than its error ` +
    `bound of ${formatOhm(boundOhm)}.`
  )
}

/** `closing check outstanding for lead 50 m since 10:40`, with how much was read since. */
export function describeOutstanding(
  lead: Lead | null,
  since: string,
  readings: number,
  units: Units,
): string {
  const name = lead ? nameLead(lead, units) : 'a lead'
  return `Closing check outstanding for ${name} since ${formatClock(since)} (${formatCounted(readings, 'reading')}).`
}

export function titleOfKit(kit: Kit): string {
  return `${printable(kit.name)}, ${methodNames[kit.method]}, ${formatAmpere(kit.testCurrentA)}`
}
