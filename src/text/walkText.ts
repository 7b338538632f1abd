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
  hold: 'hold point: after it nothing more of the walk is read before it is signed',
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

/** Why the walk does not go on. */
export function describeHeld({ pair, place }: WalkPair): string {
  const step = pair.step === '' ? '' : ` (step ${printable(pair.step)})`
  return (
    `Pair ${place}${step} is a hold point and has been read. The walk goes on when it is signed: by the witness, or ` +
    `whoever the test plan names, with a signature that names this pair.`
  )
}
