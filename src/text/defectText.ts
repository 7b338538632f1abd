import {
  isOpenDefect,
  type Defect,
  type DefectState,
  type Outstanding,
  type ProposedStep,
} from '../model/record/defects.ts'
import type { Entry } from '../model/schema/record.ts'
import { formatInstant } from './instants.ts'
import { nameJoint } from './jointNames.ts'
import { describeLook, describeOpenWork, describeRepair } from './lookText.ts'
import { formatReadOhm } from './ohms.ts'
import { namePair } from './partNames.ts'
import type { NameBook } from './places.ts'
import { nameReadingPlace, placeOf } from './readingPlace.ts'
import { capital, formatCounted, inWords } from './units.ts'
import { printable } from './where.ts'

export const stateWords: Readonly<Record<DefectState, string>> = {
  suspected: 'suspected',
  confirmed: 'confirmed',
  repaired: 'repaired',
  retested: 'retested',
  dismissed: 'dismissed',
}

export const defectTexts = {
  open: 'Open a defect',
  none: 'No defect has been opened. Open one from a suspect in Locate, or from a joint.',
  outstanding: 'Still to be done',
  history: 'What was done, and what proves it',
  record: 'Record it',
  dismiss: 'Dismiss …',
  dismissAsk: 'Why is it no defect? The reason stays on record beside it.',
  dismissDo: 'Dismiss it',
  confirm: 'Confirm without an entry …',
  confirmAsk: 'How was it confirmed? For example: an end was lifted and read over range.',
  confirmDo: 'Confirm it',
  reopen: 'Open it again …',
  reopenAsk: 'Why is it open again?',
  reopenDo: 'Open it again',
  reason: 'Reason',
  needsReason: 'Type a reason: whoever reads the record later will want to know.',
  cancel: 'Leave it as it is',
  show: 'Show on map',
  overturned: 'No longer stands: what proves it was corrected or withdrawn.',
  stepWithdrawn: 'This step was withdrawn.',
} as const

/** `Defects: 1 open of 3`. */
export function describeDefectCount(defects: readonly Defect[]): string {
  const listed = defects.filter(({ withdrawnBy }) => withdrawnBy === null)
  const open = listed.filter(isOpenDefect).length
  return listed.length === 0 ? 'Defects: none' : `Defects: ${open} open of ${listed.length}`
}

/** `Jumper between …, or 2 others`. */
export function nameDefectJoints({ joints }: Pick<Defect, 'joints'>, book: NameBook): string {
  const first = capital(nameJoint(book, joints[0]))
  return joints.length === 1 ? first : `${first}, or ${formatCounted(joints.length - 1, 'other')}`
}

/** `D1: look and repair prove it confirmed and repaired. Record it?` */
export function describeProposal(label: string, proposed: readonly ProposedStep[]): string {
  return `${label}: ${inWords(proposed.map(({ state }) => stateWords[state]))} by what was entered. Record it?`
}

export function describeRecorded(label: string, state: DefectState): string {
  return `${label} is on record as ${stateWords[state]}.`
}

export function describeOpened(label: string): string {
  return `${label} is opened as suspected.`
}

export function describeAlreadyOpen(label: string, state: DefectState): string {
  return `${label} is about this: ${stateWords[state]}.`
}

export function describeOutstanding(one: Outstanding, label: string, book: NameBook): string {
  switch (one.what) {
    case 'retest':
      return `${label}: not read again since the repair.`
    case 'retestBad':
      return `${label}: the reading since the repair is above its criterion, or out of line with the network.`
    case 'reopened':
      return `${label} is open again: an entry that proved its last state was corrected or withdrawn.`
    case 'coating':
    case 'temporaryBond':
      return describeOpenWork(one, book)
  }
}

/** `Retest: measure A to B`. */
export function describeRetest(from: string, to: string, book: NameBook): string {
  return `Retest: measure ${namePair(book, from, to)}`
}

/** One state in the history: when, and why. */
export function describeStage(state: DefectState, at: string, note: string): string {
  const why = printable(note, 300).trim()
  return `${capital(stateWords[state])}, ${formatInstant(at)}${why === '' ? '' : `: ${why.replace(/\.$/, '')}`}.`
}

/** An entry that proves a state, as a line that can be chosen. `number`: of a reading. */
export function describeProof(entry: Entry, number: number | null, book: NameBook): string {
  switch (entry.entry) {
    case 'reading': {
      const { result } = entry
      const ohms = result.form === 'ohm' ? formatReadOhm(result.ohm) : formatReadOhm(null, result.atLeastOhm)
      return `Reading ${number ?? ''}: ${ohms}, ${nameReadingPlace(book, placeOf(entry))}`
    }
    case 'look':
      return describeLook(entry)
    case 'repair':
      return describeRepair(entry)
    default:
      return `An entry of ${formatInstant(entry.at)}`
  }
}

/** What of a suspect group becomes a defect. */
export function describeProofCount(count: number): string {
  return count === 0
    ? 'Opened without a reading that speaks for it.'
    : `${formatCounted(count, 'reading')} for it.`
}
