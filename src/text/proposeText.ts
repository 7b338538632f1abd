import type { PairBound, PlanAnswer, PlanInput, PlanPairInput, WalkAnswer } from '../model/planning.ts'
import { namePair } from './partNames.ts'
import type { NameBook } from './places.ts'
import { shownOf } from './planSightText.ts'
import { formatCount, formatCounted, formatLength, formatShare, type Units } from './units.ts'

type How = PlanInput['how']

export const proposeTexts = {
  title: 'Propose a plan',
  propose: 'Propose',
  again: 'Propose again',
  compare: 'Lay out the usual patterns',
  compareHow: 'Side by side with the proposal, as starting points.',
  working: 'A proposal is being worked out',
  stop: 'Stop',
  settings: 'How it is chosen',
  slider: 'Detect, or tell apart',
  detect: 'detect: fewest pairs',
  apart: 'tell apart: know which joint',
  minutes: 'At most so many minutes',
  minutesHint: 'Empty: as many as it takes.',
  persons: 'Persons',
  one: 'one',
  two: 'two',
  times: 'Each joint is shown by',
  once: 'one pair',
  twice: 'two pairs',
  timesHint: 'Two: one spoiled reading hides nothing.',
  requiredFirst: 'The contract’s pairs come first and stay.',
  draft: 'Draft',
  draftHow: 'The map shows the draft. Nothing of it is in the plan yet.',
  accept: 'Take it into the plan',
  putAway: 'Put it away',
  look: 'Look at it',
  older: 'The array has changed since: propose again.',
  failed: 'No proposal could be made.',
  columns: ['Laid out as', 'Pairs', 'Set-ups', 'On foot', 'Minutes', 'Seen', 'Told apart'],
  step: (pairs: number) => `Proposal of ${formatCounted(pairs, 'pair')} taken into the plan`,
  stopped: 'The proposal was stopped; the plan is as before.',
} as const

export const howTexts: Readonly<Record<How, { readonly name: string; readonly about: string }>> = {
  proposed: { name: 'Proposal', about: 'chosen for what it shows' },
  star: { name: 'Star', about: 'one fixed point per set-up, every other point against it' },
  chain: { name: 'Chain', about: 'each point against the next' },
  skipOne: { name: 'Skip one', about: 'each point against the next, and against the next but one' },
  ladder: { name: 'Ladder', about: 'along both long members, with rungs between them' },
}

const boundBy: Readonly<Record<PairBound['by'], string>> = {
  ends: 'so many parts have to be an end of some pair, and a pair has two',
  linearProgramme: 'by the linear programme over the pairs it is chosen from',
  search: 'by the linear programme, and in some parts of the site by weighing every choice',
  path: 'so many parts have to be an end to tell joints apart, and a pair has two',
}

/** `31 pairs; no plan that shows the same can do with fewer than 29`, with what proves it. */
export function describeCount({ pairs, bound }: Pick<PlanAnswer, 'pairs' | 'bound'>): string {
  const count = formatCounted(pairs.length, 'pair')
  if (bound === null) return `${count}.`
  const fewest = `no plan that shows the same joints can do with fewer than ${formatCount(bound.pairs)}`
  return `${count}; ${fewest} (${boundBy[bound.by]}).`
}

/** Set-ups, metres with their bound, minutes. */
export function describeWay(answer: PlanAnswer, persons: 1 | 2, units: Units): string {
  const { setUps, wayM, wayBoundM, minutes } = answer
  const who = persons === 1 ? 'one person' : 'two persons'
  const bound =
    wayBoundM > 0 ? ` (no walk through these set-ups is shorter than ${formatLength(wayBoundM, units)})` : ''
  return (
    `${formatCounted(setUps.length, 'set-up')}, ${formatLength(wayM, units)} on foot${bound}, ` +
    `about ${describeMinutes(minutes)} for ${who}.`
  )
}

export function describeMinutes(minutes: number): string {
  const whole = Math.round(minutes)
  if (whole < 90) return `${Math.max(whole, 1)} min`
  return `${Math.floor(whole / 60)} h ${String(whole % 60).padStart(2, '0')} min`
}

/** What it shows of what any pair within reach could. */
export function describeReached({ coverage, candidates }: PlanAnswer): string {
  const shown = shownOf(coverage)
  const could = shown + coverage.counts.addPair
  const share = could === 0 ? '' : ` (${formatShare(shown / could)})`
  return (
    `It shows ${formatCount(shown)} of the ${formatCounted(could, 'joint')} that any pair within reach could show${share}, ` +
    `and tells ${formatCount(coverage.toldApart)} apart from every other. Chosen from ${formatCounted(candidates, 'pair')}.`
  )
}

/** What the contract's pairs miss, said before anything is proposed. */
export function describeRequired(required: number, missed: number): string {
  if (required === 0) return 'The contract asks for no pair: nothing is pinned.'
  const pairs = formatCounted(required, 'pair that the contract asks for', 'pairs that the contract asks for')
  return `${pairs}; these alone would leave ${formatCounted(missed, 'joint')} hidden.`
}

export function describeOutOfReach(pairs: readonly PlanPairInput[], book: NameBook): readonly string[] {
  return pairs.map(
    ({ from, to }) =>
      `${namePair(book, from, to)}: asked for, but the lead or a clip does not get there. It stays in the plan.`,
  )
}

/** One row of the comparison, in the order of the columns. */
export function compareRow(how: How, answer: PlanAnswer, units: Units): readonly string[] {
  const { coverage } = answer
  return [
    howTexts[how].name,
    formatCount(answer.pairs.length),
    formatCount(answer.setUps.length),
    formatLength(answer.wayM, units),
    describeMinutes(answer.minutes),
    coverage.joints === 0 ? '' : formatShare(shownOf(coverage) / coverage.joints),
    formatCount(coverage.toldApart),
  ]
}

/** Words of the walk through a plan. */
export const wayTexts = {
  title: 'The walk',
  order: 'Put into a short order',
  ordering: 'the way is being found',
  isDraft: 'a draft is looked at',
  step: 'Pairs in the order of a short walk',
  how: 'The first clip stays on while one goes from far end to far end; ways lead along rows and aisles. Minutes are judgement.',
} as const

/** How one walks through pairs in their order. */
export function describeWalkOf(
  { setUps, order, wayM, wayBoundM, minutes }: WalkAnswer,
  persons: 1 | 2,
  units: Units,
): string {
  const who = persons === 1 ? 'one person' : 'two persons'
  const bound =
    wayBoundM === null || wayBoundM <= 0
      ? ''
      : ` (no walk through these set-ups is shorter than ${formatLength(wayBoundM, units)})`
  return (
    `${formatCounted(order.length, 'pair')} from ${formatCounted(setUps.length, 'set-up')}, ` +
    `${formatLength(wayM, units)} on foot${bound}, about ${describeMinutes(minutes)} for ${who}.`
  )
}
