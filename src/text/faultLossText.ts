import type { FaultSweepAnswer } from '../model/faultAnswers.ts'
import { faultAmpere, faultVolt } from './faultUnits.ts'
import { told, type Figure, type FigureText } from './figure.ts'
import { nameJoint } from './jointNames.ts'
import { namePart } from './partNames.ts'
import type { NameBook } from './places.ts'
import { formatCounted } from './units.ts'

export const lossTexts = {
  title: 'Which loss would be worst',
  how: 'Loses every joint in turn, and asks what that does to this fault.',
  find: 'Lose every joint in turn',
  again: 'Do it again',
  worst: 'Most volts across themselves, once lost',
  none: 'No loss of a single joint puts volts across it that are worth a word.',
  showMore: 'Show more',
  watched: 'Watched pairs',
  noWatched: 'None. Pick a part on the map and choose “Watch from here”, then another.',
  watchBegun: 'One end is chosen. Pick the other part and choose “Watch to here”.',
  unwatch: 'Stop watching',
  older: 'From before the last change: do it again.',
  ask: 'Not known yet: lose every joint in turn.',
} as const

/** A loss sweep with what it belongs to. */
export interface ToldLosses {
  readonly answer: FaultSweepAnswer
  readonly source: string
  readonly at: string
  readonly book: NameBook
}

const rules = [
  'Exact for the loss of one joint (rank-one update of the network, the source’s curve solved anew)',
]

function inputs({ answer, source, at, book }: ToldLosses): Figure['inputs'] {
  return [
    { name: 'Source', value: source },
    { name: 'Fault on', value: namePart(book, at) },
    { name: 'Fault current with every joint in place', value: faultAmpere(answer.soundA) },
  ]
}

export function describeLosses(losses: ToldLosses): FigureText {
  const { answer, book } = losses
  const sound: Figure = {
    value: faultAmpere(answer.soundA),
    name: 'Fault current with every joint in place',
    how: 'The source’s curve against the whole network.',
    inputs: inputs(losses).slice(0, 2),
    rules: ['Kirchhoff’s laws over every joint'],
  }
  const stops =
    answer.stops === 0
      ? 'no single loss stops it'
      : `${formatCounted(answer.stops, 'joint')} would stop it when lost alone: then nothing that waits for amperes acts`
  return told`Of ${sound}, ${stops}. Volts are across the lost joint’s own ends; to ${book.words.earth} they may be more.`
}

export function describeLoss(
  losses: ToldLosses,
  { acrossV, leftA, joint }: FaultSweepAnswer['worst'][number],
): FigureText {
  const name = nameJoint(losses.book, joint)
  const across: Figure = {
    value: faultVolt(acrossV),
    name: `Volts across ${name}, once lost`,
    how: 'Difference of volts between its two parts with this joint open and all others as drawn.',
    inputs: [...inputs(losses), { name: 'Joint', value: `${name}, open` }],
    rules,
  }
  const left: Figure = {
    value: faultAmpere(leftA),
    name: `Fault current without ${name}`,
    how: 'The source’s curve against the network without this joint.',
    inputs: [...inputs(losses), { name: 'Joint', value: `${name}, open` }],
    rules,
  }
  return told`${across} across its ends; ${left} still flow.`
}

export function describeWatched(losses: ToldLosses, pair: FaultSweepAnswer['watched'][number]): FigureText {
  const { book } = losses
  const ends = [
    { name: 'From', value: namePart(book, pair.from) },
    { name: 'To', value: namePart(book, pair.to) },
  ]
  const sound: Figure = {
    value: faultVolt(pair.soundV),
    name: 'Volts with every joint in place',
    how: 'Difference of volts between the two parts.',
    inputs: [...ends, ...inputs(losses)],
    rules: ['Kirchhoff’s laws over every joint'],
  }
  if (pair.joint === null) return told`${sound} with every joint in place; no single loss makes it more.`
  const most: Figure = {
    value: faultVolt(pair.mostV),
    name: 'Most volts that one loss makes of it',
    how: 'The largest difference over the loss of every joint in turn.',
    inputs: [...ends, { name: 'Lost', value: nameJoint(book, pair.joint) }, ...inputs(losses)],
    rules,
  }
  return told`${sound} with every joint in place; ${most} once ${nameJoint(book, pair.joint)} is lost.`
}
