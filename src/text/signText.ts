import type { PlanPoint, Reopening, SignedState } from '../model/record/signatures.ts'
import type { ToSettle } from '../model/record/signChecklist.ts'
import type { Entry, EntryOf } from '../model/schema/record.ts'
import { formatInstant } from './instants.ts'
import { describeOpenWork } from './lookText.ts'
import { namePair } from './partNames.ts'
import type { NameBook } from './places.ts'
import { formatCounted, inWords } from './units.ts'
import { printable } from './where.ts'

type Signature = EntryOf<'signature'>

export const roleWords: Readonly<Record<Signature['role'], string>> = {
  tester: 'tester',
  contractor: 'contractor',
  witness: 'witness',
  ownersEngineer: 'owner’s engineer',
}
export const roles = Object.keys(roleWords) as readonly Signature['role'][]

/** What each role says, until another statement is typed. */
export const statements: Readonly<Record<Signature['role'], string>> = {
  tester: 'The readings were taken as they are recorded.',
  contractor: 'The work and the tests recorded here were done as recorded.',
  witness: 'The tests recorded here were watched.',
  ownersEngineer: 'The record was looked through as it stands.',
}

export const signTexts = {
  title: 'Signatures',
  none: 'Nobody has signed this visit yet.',
  sign: 'Sign the visit …',
  signDialog: 'Sign the visit',
  pointDialog: 'Release a point of the plan',
  visit: 'Visit',
  role: 'As',
  name: 'Name',
  statement: 'Statement',
  outstanding: 'Outstanding now',
  nothing: 'Nothing is outstanding.',
  /** What a signature is, and what it is not. */
  about:
    'A signature stands for the entries named here and for no others. What is outstanding is shown and hinders nobody. ' +
    'Whatever is corrected, withdrawn or added afterwards reopens the sheet, and is told beside the signature.',
  confirm: 'I stand for these entries as they are recorded',
  needsName: 'Type the name of who signs.',
  needsConfirm: 'Confirm first that you stand for these entries.',
  cancel: 'Not now',
  done: 'Sign',
  noDigest:
    'This page cannot make digests, so nothing can be signed on it. Open it over https or from this device.',
  changed: 'Something was entered meanwhile. Read what is signed again, and sign then.',
  changes: 'What changed since',
  release: 'Release it …',
  signed: 'The signature is on record.',
  reopened: 'The sheet is open again',
} as const

/** `Signed by A. Rowan as tester, 2031-05-04 08:05: 72 entries, drawing revision B.` */
export function describeSignature({
  name,
  role,
  at,
  entries,
  drawingRevision,
  plan,
  planPair,
}: Signature): string {
  const drawing = printable(drawingRevision).trim()
  const point = plan === null || planPair === null ? '' : `, point ${planPair} of plan ${printable(plan)}`
  return (
    `${printable(name)}, ${roleWords[role]}, ${formatInstant(at)}: ${formatCounted(entries.length, 'entry', 'entries')}` +
    `${drawing === '' ? '' : `, drawing ${drawing}`}${point}.`
  )
}

/** In a few words how a signature stands. */
export function signedWord({ state }: SignedState): string {
  return {
    holds: 'holds',
    reopened: 'open again',
    doesNotMatch: 'does not match',
    unchecked: 'being checked',
    withdrawn: 'withdrawn',
  }[state]
}

export function describeSigned(state: SignedState): string {
  switch (state.state) {
    case 'holds':
      return 'Nothing that was signed has changed since.'
    case 'unchecked':
      return 'The entries are being held against the signature.'
    case 'withdrawn':
      return 'The signature was withdrawn.'
    case 'doesNotMatch':
      return 'What it names is not what was signed: the file was changed outside the program.'
    case 'reopened':
      return `${formatCounted(state.by.length, 'change')} since it was signed. Sign again once they are settled.`
  }
}

/** One change since signing; `number`: of the reading it is about. */
export function describeReopening(one: Reopening, by: Entry | undefined, number: number | null): string {
  if (one.why === 'drawing') return 'The drawing was changed after signing.'
  const when = by ? `, ${formatInstant(by.at)}` : ''
  const reason = by && 'reason' in by ? printable(by.reason, 300).trim().replace(/\.$/, '') : ''
  const why = reason === '' ? '' : `: ${reason}`
  const what = number === null ? 'a signed entry' : `reading ${number}`
  switch (one.why) {
    case 'corrected':
      return `Corrected after signing: ${what}${when}${why}.`
    case 'withdrawn':
      return `Withdrawn after signing: ${what}${when}${why}.`
    case 'added':
      return `Added after signing: ${by ? sortWords[by.entry] : 'an entry'}${number === null ? '' : ` ${number}`}${when}.`
  }
}

const sortWords: Readonly<Record<Entry['entry'], string>> = {
  visit: 'a visit',
  amendment: 'particulars of the visit',
  nulling: 'a nulling',
  leadCheck: 'a check of the leads',
  volts: 'a reading of volts',
  reading: 'reading',
  correction: 'a correction',
  withdrawal: 'a withdrawal',
  look: 'a look',
  repair: 'a repair',
  defect: 'a defect',
  defectStep: 'a step of a defect',
  note: 'a note',
  signature: 'a signature',
}

/** At the head of Measure while a sheet that was signed is open again. */
export function describeReopenedSheet(signatures: readonly Signature[]): string {
  const who = inWords(signatures.map(({ name, role }) => `${printable(name)} (${roleWords[role]})`))
  return `Signed by ${who}; something was corrected, withdrawn, added or redrawn since.`
}

/** What is being signed; for a point of a plan, the readings of its pair with what was said about them. */
export function describeToSign(entries: number, revision: string, isPoint: boolean): string {
  const drawing = printable(revision).trim()
  const which = isPoint ? 'about this pair in the visit so far' : 'of the visit so far'
  return (
    `${formatCounted(entries, 'entry', 'entries')} ${which}, on the drawing as it is now` +
    `${drawing === '' ? '' : ` (${drawing})`}.`
  )
}

export function describeOpenDefects(labels: readonly string[]): string {
  return `${labels.length === 1 ? 'Defect' : 'Defects'} ${inWords(labels)} still open.`
}

export function describeToSettle(one: ToSettle, kitName: (id: string) => string, book: NameBook): string {
  switch (one.what) {
    case 'leadCheck':
      return `The leads of ${kitName(one.kit)} were not shorted and read after the last reading with them.`
    case 'openWork':
      return describeOpenWork(one.work, book)
    case 'point':
      return describePoint(one, book)
    case 'calibration':
      return one.due === null
        ? `No date of calibration is on record for ${kitName(one.kit)}.`
        : `Calibration of ${kitName(one.kit)} was due on ${one.due}, before the visit.`
  }
}

/** `2031-05-04, first test (A. Rowan)`. */
export function nameVisit({ at, purpose, party }: EntryOf<'visit'>): string {
  const why = printable(purpose, 60).trim()
  const who = party.map((one) => printable(one)).join(', ')
  return `${at.slice(0, 10)}${why === '' ? '' : `, ${why}`}${who === '' ? '' : ` (${who})`}`
}

/** `Hold point 3 of the plan “Handover”, A to B: not signed.` */
export function describePoint({ point }: Extract<ToSettle, { what: 'point' }>, book: NameBook): string {
  return `${namePoint(point, book)}: not signed.`
}

export function namePoint(point: PlanPoint, book: NameBook): string {
  const plan = book.drawing.plans.find(({ id }) => id === point.plan)
  const pair = plan?.pairs.find(({ id }) => id === point.planPair)
  const where = pair ? `, ${namePair(book, pair.from, pair.to)}` : ''
  const word = pair?.point === 'hold' ? 'Hold point' : 'Witness point'
  return `${word} ${point.planPair} of the plan ${printable(plan?.name ?? point.plan)}${where}`
}
