import type { Plan } from '../model/schema/planning.ts'
import { namePair } from './partNames.ts'
import type { NameBook } from './places.ts'
import { formatCounted } from './units.ts'
import { printable, quoted } from './where.ts'

/** Words of the workspace in which tests are planned. */
export const planTexts = {
  plan: 'Plan',
  none: 'No plan yet. A plan is a list of pairs of parts, in the order in which they are to be read.',
  make: 'New plan',
  name: 'Name',
  note: 'Note on the sheet',
  about: 'Name and note',
  remove: 'Remove this plan',
  firstName: 'Plan',
  pairs: 'Pairs',
  noPairs:
    'No pair yet. Tap a part on the map and then another; or type both ends below. Contract pairs come first.',
  link: 'Add pairs on the map',
  linkEnd: 'Leave off adding',
  typeEnds: 'Add a pair by its two ends',
  from: 'From',
  to: 'To',
  add: 'Add this pair',
  bothEnds: 'both ends have to be chosen',
  samePart: 'A pair has two different parts.',
  required: 'The contract asks for it',
  requiredHint: 'It stays in the plan, whatever else is proposed.',
  step: 'Step of the test plan',
  stepHint: 'As the contract numbers it.',
  point: 'Witness or hold point',
  points: { none: 'neither', witness: 'witness point', hold: 'hold point' },
  earlier: 'Earlier',
  later: 'Later',
  isFirst: 'it is the first',
  isLast: 'it is the last',
  show: 'Show on map',
  removePair: 'Remove pair',
  walk: 'Walk it in Measure',
  noWalk: 'the plan has no pair',
  shown: 'On the map',
  showsSights: 'what would show',
  showsPairs: 'pairs',
  showsWay: 'the way',
  out: 'On paper and on site',
  sheet: 'Test sheet',
  csv: 'Pairs as CSV',
  saved: (fileName: string) => `Saved as ${fileName}.`,
  setUp: (number: number) => `Set-up ${number}`,
  firstClip: 'first clip on',
  more: 'Show more',
} as const

/** Names of the steps that can be undone. */
export const planSteps = {
  add: (name: string) => `New plan ${quoted(name)}`,
  rename: (name: string) => `Plan ${quoted(name)} renamed`,
  note: (name: string) => `Note of plan ${quoted(name)}`,
  remove: (name: string) => `Plan ${quoted(name)} removed`,
  addPair: (place: number) => `Pair ${place} added`,
  removePair: (place: number) => `Pair ${place} removed`,
  require: (place: number, isIt: boolean) =>
    isIt ? `Pair ${place} is asked for by the contract` : `Pair ${place} is not asked for by the contract`,
  step: (place: number) => `Step of pair ${place}`,
  point: (place: number) => `Witness or hold point at pair ${place}`,
  move: (place: number, to: number) => `Pair ${place} is now pair ${to}`,
} as const

/** A plan as the list of plans has it. */
export function describePlanChoice({ name, pairs }: Plan): string {
  return `${printable(name, 80) || 'without a name'}, ${formatCounted(pairs.length, 'pair')}`
}

/** What the map says before a tap: which end is next. */
export function describeNextEnd(first: string | null): string {
  return first === null
    ? 'Tap the part where the pair begins.'
    : `From: ${first}. Now the part where it ends.`
}

/** Said when a pair was added, with how many there are. */
export function describeAdded(
  book: NameBook,
  { from, to }: { from: string; to: string },
  pairs: number,
): string {
  return `Added: ${namePair(book, from, to)}. The plan has ${formatCounted(pairs, 'pair')}.`
}

/** Said where the plan has the pair already. */
export function describeTwice(place: number): string {
  return `The plan has it already, as pair ${place}.`
}

/** What a contract says of a pair, for its line in the list; empty where it says nothing. */
export function describePinned({ required, step, point }: Plan['pairs'][number]): readonly string[] {
  return [
    ...(required ? ['contract'] : []),
    ...(step === '' ? [] : [`step ${printable(step, 40)}`]),
    ...(point === 'none' ? [] : [planTexts.points[point]]),
  ]
}
