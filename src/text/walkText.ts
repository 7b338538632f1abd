import type { Walk, WalkPair } from '../model/queries/planWalk.ts'
import type { Plan } from '../model/schema/planning.ts'
import { namePair } from './partNames.ts'
import type { NameBook } from './places.ts'
import { formatCounted } from './units.ts'
import { printable, quoted } from './where.ts'

/** Sentences of a walk along a plan. */
export const walkTexts = {
  title: 'Walk a plan',
  begin: 'Walk it',
  next: 'Next pair',
  skip: 'Pass over',
  back: 'Back',
  end: 'End the walk',
  atEnd: 'No pair is left: all are read or passed over.',
  witness: 'witness point: tell whoever wants to watch before it is read',
  hold: 'hold point: no pair after it is read before it is signed',
  holdTitle: 'Held until it is signed',
  release: 'Sign for the hold point …',
  elsewhere: 'The form shows another pair: what is read there does not count for the plan.',
} as const

export function describePlan({ name, pairs }: Plan): string {
  return `${quoted(name)}, ${formatCounted(pairs.length, 'pair')}`
}

/** Where one stands: `Pair 7 of 31: bar B1 to table …, step 2.1, witness point …`. */
export function describeWalkPair({ plan }: Walk, { pair, place }: WalkPair, book: NameBook): string {
  const parts = [
    `Pair ${place} of ${plan.pairs.length}: ${namePair(book, pair.from, pair.to)}`,
    ...(pair.step === '' ? [] : [`step ${printable(pair.step)}`]),
    ...(pair.required ? ['asked for by the contract'] : []),
    ...(pair.point === 'none' ? [] : [walkTexts[pair.point]]),
  ]
  return `${parts.join(', ')}.`
}

export function describeProgress({ done, skipped, left }: Walk): string {
  return `${done} read, ${skipped} passed over, ${left} left.`
}

/** Why no pair behind a hold point is read, and where the point is released. */
export function describeHeld({ name }: Plan, { pair, place, reading }: WalkPair, book: NameBook): string {
  const step = pair.step === '' ? '' : ` (step ${printable(pair.step)})`
  const read = reading === null ? 'has not been read' : 'has been read'
  return (
    `Pair ${place}${step} of the plan ${quoted(name)}, ${namePair(book, pair.from, pair.to)}, is a hold point and ${read}. ` +
    `No later pair of this plan is read before the witness, or whoever the test plan names, has signed for it under ` +
    `Signatures.`
  )
}

/** What stays possible meanwhile. */
export const besidesHold =
  'Pairs up to the hold point can be read again, and so can any pair that is not of this plan.'
