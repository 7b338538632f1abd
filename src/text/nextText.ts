import type { NextAction, NextAnswer, Outcome } from '../model/answers.ts'
import { nameJoint, nameJointAt } from './jointNames.ts'
import { formatOhm, formatRoughOhm, sharedOhmUnit } from './ohms.ts'
import { namePair } from './partNames.ts'
import type { NameBook } from './places.ts'
import { item, paragraph, support, type TextLine, type TextSection } from './sections.ts'
import { capital, formatChance, formatCounted, formatShare, inWords } from './units.ts'
import { printable } from './where.ts'

/** Below this share of what is open, or with so little open, it is not said how much an action settles. */
const leastShareSaid = 0.01
const leastOpenBits = 0.01
/** Joints that are named one by one in what an outcome would mean. */
const namedJoints = 3

/** All that there is to do next, as sections of plain sentences. */
export function describeNext(answer: NextAnswer, book: NameBook): readonly TextSection[] {
  return [
    { title: 'What to do next', lines: [paragraph(describeStop(answer))] },
    ...answer.actions.map((action, k) => ({
      title: `${k + 1}. ${describeAction(action, book)}`,
      lines: describeActionDetails(answer, action, book),
    })),
  ]
}

/** With less left open than this, in bits, one joint leads: it had nine chances in ten, or more. */
const leadsBits = 0.5

/** Whether to go on, in one or two sentences. */
export function describeStop({ stop, actions, entropyBits }: NextAnswer): string {
  switch (stop) {
    case 'goOn':
      return (
        (entropyBits < leadsBits
          ? 'One explanation leads, but single readings carry it: another makes it sure or overturns it. '
          : 'The readings leave open which joints are bad, if any. ') +
        'What says most for the minutes it takes comes first; after each result, ask again.'
      )
    case 'foundIt':
      return (
        'Measured enough of the first suspect: it stays all but certain whichever single reading is left out. It is a lead for ' +
        `inspection${actions.length > 0 ? ': see to it now.' : ', to be opened up and put right under a temporary bond.'}`
      )
    case 'nothingWorthIt':
      return actions.length > 0
        ? 'No further reading says enough for the time it takes. See to the first suspect.'
        : 'No further reading says enough about the joints that were reached so far. Joints that no reading has ' +
            'reached are not weighed here: they need readings or looks of their own.'
    case 'noReadings':
      return 'No reading counts yet. Take the first ones, from a reference point to the ends of each row.'
  }
}

/** What to do, short enough for a button or a label on the map. */
export function describeAction(action: NextAction, book: NameBook): string {
  return `${capital(what(action, book))}: ${formatMinutes(action.minutes)}`
}

/** The same in a few words, where the place is shown beside it. */
export function nameAction({ kind }: NextAction): string {
  return {
    pair: 'Read this pair',
    repeat: 'Read again with fresh contacts',
    shortLeads: 'Read the leads shorted',
    look: 'Look',
    retorque: 'Look and check the torque',
  }[kind]
}

function what(action: NextAction, book: NameBook): string {
  switch (action.kind) {
    case 'pair':
      return `read ${pairOf(action, book)}`
    case 'repeat':
      return `read ${pairOf(action, book)} again, with fresh contacts`
    case 'shortLeads':
      return 'short the leads at their far end and read them'
    case 'look':
      return `look at ${jointsOf(action, book)}`
    case 'retorque':
      return `check the torque of ${jointsOf(action, book)}`
  }
}

function pairOf({ from = '', to = '' }: NextAction, book: NameBook): string {
  return namePair(book, from, to)
}

function jointsOf({ joint = '', joints = [joint] }: NextAction, book: NameBook): string {
  return joints.length === 1
    ? `the ${nameJoint(book, joint)}`
    : `${formatCounted(joints.length, 'joint')}, the ${nameJoint(book, joint)} first`
}

/** Minutes as one says them: `about 2 minutes`, `about 2 hours`. */
export function formatMinutes(minutes: number): string {
  if (minutes >= 90) return `about ${formatCounted(Math.round(minutes / 60), 'hour')}`
  return `about ${formatCounted(Math.max(1, Math.round(minutes)), 'minute')}`
}

/** How it is done, what is to be expected, what each outcome would mean. */
export function describeActionDetails(answer: NextAnswer, action: NextAction, book: NameBook): TextLine[] {
  const settled = describeSettled(answer, action)
  return [
    ...describeHow(action, book),
    ...(action.expectedOhm ? [item(describeExpected(action.expectedOhm))] : []),
    ...action.outcomes.map((outcome) => item(describeOutcome(action, outcome, book), [...outcome.joints])),
    ...(settled === null ? [] : [item(settled)]),
  ]
}

/** How much of what is open an action settles; null where that is not worth a word. */
export function describeSettled({ entropyBits }: NextAnswer, { bits }: NextAction): string | null {
  const share = entropyBits > leastOpenBits ? Math.min(1, bits / entropyBits) : 0
  return share < leastShareSaid
    ? null
    : `On average this settles ${formatShare(share)} of what is still open.`
}

/** What is done, step by step. */
export function describeHow(action: NextAction, book: NameBook): TextLine[] {
  const { from = '', to = '', joint = '', joints = [joint] } = action
  switch (action.kind) {
    case 'pair':
      return [item(`Reference clip at ${printable(from)}, second clip at ${printable(to)}.`, [from, to])]
    case 'repeat':
      return [
        item(
          `Take off both clips, at ${printable(from)} and ${printable(to)}, clean the metal and seat them afresh: a ` +
            'poor contact goes away, a bad joint stays.',
          [from, to],
        ),
      ]
    case 'shortLeads':
      return [item('What is left of the leads after nulling is in every reading since.')]
    case 'look':
      return [
        item('Loose, corroded, a coating that was not pierced, a part missing or broken?', joints),
        ...listed(joints, book),
      ]
    case 'retorque':
      return [
        item('Look at it first, then check it against the torque that its maker asks for.', joints),
        ...listed(joints, book),
        item(
          `Put a temporary bond across it before it is loosened or opened, and leave every bond and ` +
            `${book.words.earthingConductor} in place while current may flow in it.`,
        ),
        item('Repeat the readings that speak for it afterwards.'),
      ]
  }
}

function listed(joints: readonly string[], book: NameBook): TextLine[] {
  return joints.length > 1 ? joints.map((joint) => support(capital(nameJointAt(book, joint)))) : []
}

/** `Nine times in ten it reads between 48 mΩ and 2.2 Ω.` */
export function describeExpected({ low, high }: NonNullable<NextAction['expectedOhm']>): string {
  if (low === Infinity) return 'It reads over range, as far as can be told.'
  const unit = sharedOhmUnit([low, high])
  const least = formatRoughOhm(low, unit)
  if (high === Infinity) return `Nine times in ten it reads ${least} or more, up to over range.`
  const most = formatRoughOhm(high, unit)
  return least === most
    ? `It reads about ${least}, as far as can be told.`
    : `Nine times in ten it reads between ${least} and ${most}.`
}

/** `Below 0.22 Ω (33 %): then the jumper … is likeliest, 71 %.` */
export function describeOutcome(action: NextAction, outcome: Outcome, book: NameBook): string {
  return `${describeWhen(action, outcome)} (${formatChance(outcome.probability)}): ${describeThen(outcome, book)}`
}

/** What comes out, without its chance: `Below 0.22 Ω`, `Found bad`. */
export function describeWhen(action: NextAction, { when, fromOhm, toOhm }: Outcome): string {
  const unit = sharedOhmUnit([fromOhm, toOhm])
  switch (when) {
    case 'below':
      return toOhm === null ? 'Any reading within range' : `Below ${formatOhm(toOhm, unit)}`
    case 'between':
      return `Between ${formatOhm(fromOhm ?? 0, unit)} and ${formatOhm(toOhm ?? Infinity, unit)}`
    case 'above':
      return `Above ${formatOhm(fromOhm ?? 0, unit)}`
    case 'overRange':
      return 'Over range'
    case 'bad':
      return 'Found bad'
    case 'sound':
      return action.joints ? 'None of them found bad' : 'Nothing found'
  }
}

/** What would be thought then. Other joints may be bad all the same: nothing here says that one is the only one. */
export function describeThen(outcome: Outcome, book: NameBook): string {
  const { when, leader, leaderProbability, joints, jointCount } = outcome
  const chance = formatChance(leaderProbability)
  // a look that finds nothing does not clear a joint that the readings convict
  const still = when === 'sound' ? 'still ' : ''
  if (leader === 'nothing')
    return `then it is ${chance} likely that none of the suspects that this bears on is bad.`
  if (jointCount === 1) return `then the ${nameJoint(book, joints[0])} is ${still}${chance} likely to be bad.`
  const shown = joints.slice(0, namedJoints).map((joint) => `the ${nameJoint(book, joint)}`)
  const left = jointCount - shown.length
  const names = inWords(left > 0 ? [...shown, `${left} more`] : shown)
  return `then it is ${still}${chance} likely that at least one of these ${formatCounted(jointCount, 'joint')} is bad: ${names}.`
}
