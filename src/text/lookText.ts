import type { OpenWork } from '../model/record/defects.ts'
import type { EntryOf } from '../model/schema/record.ts'
import { formatInstant } from './instants.ts'
import { nameJoint } from './jointNames.ts'
import type { NameBook } from './places.ts'
import { capital, inWords } from './units.ts'
import { printable } from './where.ts'

export type Finding = EntryOf<'look'>['findings'][number]
type Done = EntryOf<'repair'>['done']
type Coating = EntryOf<'repair'>['coating']

/** In the order in which one looks. */
export const findingWords: Readonly<Record<Finding, string>> = {
  sound: 'sound',
  loose: 'loose',
  corroded: 'corroded',
  coatingNotPierced: 'coating not pierced',
  washerMissing: 'washer missing',
  dissimilarMetals: 'dissimilar metals',
  partMissing: 'part missing',
  broken: 'broken',
  other: 'something else',
}
export const findings = Object.keys(findingWords) as readonly Finding[]

export const doneWords: Readonly<Record<Done, string>> = {
  retorqued: 'set to torque',
  cleaned: 'cleaned',
  replaced: 'part replaced',
  added: 'part added',
  temporaryBond: 'temporary bond put on',
  other: 'something else',
}
export const doneSorts = Object.keys(doneWords) as readonly Done[]

export const coatingWords: Readonly<Record<Coating, string>> = {
  notTouched: 'not touched',
  madeGood: 'made good',
  stillOpen: 'still open',
}
export const coatings = Object.keys(coatingWords) as readonly Coating[]

export const lookTexts = {
  look: 'Record a look …',
  repair: 'Record a repair …',
  lookTitle: 'Look at a joint',
  repairTitle: 'Repair of a joint',
  joint: 'Joint',
  found: 'What was found',
  done: 'What was done',
  coating: 'The coating around it',
  torqueAsked: 'Torque required',
  torqueAskedHint: 'What its maker or the drawing asks for',
  torqueFound: 'Torque found',
  torqueSet: 'Torque set',
  by: 'Done by',
  note: 'Note',
  writeLook: 'Record the look',
  writeRepair: 'Record the repair',
  cancel: 'Not now',
  needsFinding: 'Tap what was found; “sound” where nothing was.',
  needsDone: 'Tap what was done.',
  history: 'Looks and repairs here',
  madeGood: 'Coating made good',
  bondOff: 'Temporary bond first',
  savedLook: 'The look is on record; the ranking takes it into account.',
  savedRepair: 'The repair is on record. Readings through the joint from before it no longer count.',
  savedBond: 'The temporary bond is on record. Take it off again before the joint is read.',
  savedCoating: 'On record: the coating is made good.',
  /** Before anyone opens a joint. */
  before:
    'Temporary bond first: opening a bond can leave metal live. Put a temporary bond across the joint before it is ' +
    'loosened or opened. Qualified persons only, by local code and site procedures.',
  after:
    'Afterwards: restore the coating, take the temporary bond off, and read the pair again that spoke for the defect.',
} as const

/** `loose and washer missing; torque 12 N·m of 25 N·m required`. */
export function describeLook(look: EntryOf<'look'>): string {
  const { torqueAskedNm, torqueFoundNm, torqueSetNm, note } = look
  const found = inWords(look.findings.map((one) => findingWords[one]))
  const torque = [
    torqueFoundNm === null ? '' : `torque found ${formatTorque(torqueFoundNm)}`,
    torqueAskedNm === null ? '' : `${formatTorque(torqueAskedNm)} required`,
    torqueSetNm === null ? '' : `set to ${formatTorque(torqueSetNm)}`,
  ].filter((part) => part !== '')
  return joined([`Looked at: ${found}`, torque.join(', '), printable(note, 300).trim()])
}

export function describeRepair({ done, by, torqueSetNm, coating, note }: EntryOf<'repair'>): string {
  const isCoatingOnly = done === 'other' && coating === 'madeGood'
  return joined([
    isCoatingOnly ? 'Coating made good' : `Repaired: ${doneWords[done]}`,
    torqueSetNm === null ? '' : `set to ${formatTorque(torqueSetNm)}`,
    isCoatingOnly || coating === 'notTouched' ? '' : `coating ${coatingWords[coating]}`,
    by.trim() === '' ? '' : `by ${printable(by)}`,
    printable(note, 300).trim(),
  ])
}

/** The same with when. */
export function describeWork(entry: EntryOf<'look'> | EntryOf<'repair'>): string {
  return `${formatInstant(entry.at)}. ${entry.entry === 'look' ? describeLook(entry) : describeRepair(entry)}`
}

function joined(parts: readonly string[]): string {
  const text = parts.filter((part) => part !== '').join('; ')
  return /[.!?]$/.test(text) ? text : `${text}.`
}

export function formatTorque(newtonMetre: number): string {
  return `${Number(newtonMetre.toPrecision(4))} N·m`
}

/** What a repair left to be done. */
export function describeOpenWork({ what, joint }: OpenWork, book: NameBook): string {
  const name = capital(nameJoint(book, joint))
  return what === 'coating'
    ? `${name}: restore the coating; it was left open at the repair.`
    : `${name}: a temporary bond lies across it. While it does, no reading tells how the joint is.`
}
