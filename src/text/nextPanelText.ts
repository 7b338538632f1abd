import type { NextAction, NextAnswer } from '../model/answers.ts'
import { describeAction, describeHow, formatMinutes, nameAction } from './nextText.ts'
import { nameJoint } from './jointNames.ts'
import { namePair, namePart } from './partNames.ts'
import type { NameBook } from './places.ts'
import type { TextLine } from './sections.ts'
import { capital, formatCounted } from './units.ts'
import { printable } from './where.ts'

/** Short labels and sentences of the panel that says what to do next. */
export const nextTexts = {
  lineTitle: 'Next',
  title: 'What to do next',
  outcomes: 'What would be thought then',
  working: 'Working out what to do next',
  older: 'This is from before the last change; it is being worked out anew.',
  olderReason: 'This is from before the last change.',
  stopped: 'Stopped before it was worked out what to do next.',
  stop: { read: 'Stop', spoken: 'working out what to do next' },
  goOn: { read: 'Go on', spoken: 'working out what to do next' },
  measure: 'Measure this',
  repeat: 'Repeat it',
  leads: 'Null or check the leads',
  show: 'Show on the map',
  details: 'Why, and what would be thought then',
  toLocate: 'See it in Locate',
  leadsSaid:
    'Short the clips at the far end of the leads and read: what is left there is in every reading. Where it is not ' +
    'near zero, null the leads and press “Nulled now”.',
} as const

/** Where a clip goes: in words, and by the address that is on the drawing. */
export interface ClipPlace {
  readonly clip: 'Reference clip' | 'Second clip'
  readonly name: string
  readonly address: string
}

/** Both ends of a reading; empty for what is no reading between two parts. */
export function clipPlaces({ from, to }: NextAction, book: NameBook): readonly ClipPlace[] {
  if (from === undefined || to === undefined) return []
  return [
    { clip: 'Reference clip', name: namePart(book, from), address: printable(from) },
    { clip: 'Second clip', name: namePart(book, to), address: printable(to) },
  ]
}

/** What an action is called where its clips stand below it, or its joints have to be named. */
export function headAction(action: NextAction, book: NameBook): string {
  const { joint, joints } = action
  if (joint === undefined) return nameAction(action)
  const what = { look: 'Look at', retorque: 'Look at, and check the torque of,' } as const
  const verb = action.kind === 'retorque' ? what.retorque : what.look
  const name = `the ${nameJoint(book, joint)}`
  return joints && joints.length > 1
    ? `${verb} ${formatCounted(joints.length, 'joint')}, ${name} first`
    : `${verb} ${name}`
}

export function headMinutes({ minutes }: NextAction): string {
  return capital(formatMinutes(minutes))
}

/** Steps beside those that the places of the clips say. */
export function stepsOf(action: NextAction, book: NameBook): readonly TextLine[] {
  return action.kind === 'pair' ? [] : describeHow(action, book)
}

/** `Next: read frame 1.1, table 1 to frame 1.2, table 4, Row 2: about 2 minutes` */
export function describeNextLine(action: NextAction, book: NameBook): string {
  const told = describeAction(action, book)
  return `Next: ${told.charAt(0).toLowerCase()}${told.slice(1)}`
}

/** What a button does, for those who hear it without what stands around it. */
export function spokenPair({ from = '', to = '' }: NextAction, book: NameBook): string {
  return namePair(book, from, to)
}

/** Over the actions that come after the first. */
export function describeOthers({ actions }: NextAnswer): string {
  const count = actions.length - 1
  return count === 1 ? '1 more thing to do' : `${count} more things to do`
}

/** The reading of the map that is to be taken next, spoken. */
export function describeGhost(from: string, to: string, book: NameBook): string {
  return `Next reading: ${namePair(book, from, to)}. Measure it`
}
