import {
  sights,
  type CoverageAnswer,
  type Cure,
  type HiddenJoints,
  type JointSightAnswer,
  type LookAlike,
  type PairSight,
  type PlanKit,
  type PlanSeverity,
  type Sight,
} from '../model/planning.ts'
import { nameKitMethod, nameLead } from './entryText.ts'
import { nameJoint, nameKind } from './jointNames.ts'
import { formatOhm, formatRoughOhm, sharedOhmUnit } from './ohms.ts'
import { namePair, namePart } from './partNames.ts'
import type { NameBook } from './places.ts'
import {
  formatCount,
  formatCounted,
  formatExpected,
  formatLength,
  formatShare,
  inWords,
  type Units,
} from './units.ts'
import { printable } from './where.ts'

/** What a joint is thought to become, as one chooses it and as a sentence says it. */
export const severityTexts: Readonly<
  Record<PlanSeverity, { readonly choice: string; readonly said: string }>
> = {
  tripled: { choice: '3 times its ohms', said: 'went to three times its ohms' },
  tenfold: { choice: '10 times its ohms', said: 'went to ten times its ohms' },
  hundredfold: { choice: '100 times its ohms', said: 'went to a hundred times its ohms' },
  open: { choice: 'open', said: 'went open' },
}

export const sightTexts = {
  title: 'What the plan would show',
  severity: 'If a joint goes to',
  incidental: 'Rely on bare contact',
  incidentalHint: 'Metal that only touches conducts today and may not tomorrow.',
  kit: 'Instrument and lead',
  instrument: 'Instrument',
  lead: 'Lead',
  asRecorded: 'as in the record',
  hidden: 'What stays hidden',
  nothingHidden: 'Nothing is hidden from this plan.',
  cure: 'What would cure it',
  forExample: 'For example',
  lookAlikes: 'Look alike',
  lookAlikesHow:
    'These are shown, and whatever is read, it cannot be said which of them it is. Another pair between them tells them apart.',
  noneAlike: 'Every joint that shows is told apart from all others.',
  addCure: 'Add this pair',
  older: 'Being updated: this is from before the last change.',
  stopped: 'Stopped: this is from before the last change.',
  noPairs: 'Without a pair nothing shows.',
} as const

/** A sight in the words of a list. */
export const sightWords: Readonly<Record<Exclude<Sight, 'cannotFail'>, string>> = {
  criterion: 'over the criterion',
  comparison: 'only by comparison',
  addPair: 'hidden: another pair would show it',
  noAccess: 'hidden: no clip or lead gets there',
  finerKit: 'hidden: needs a four-wire tester',
  parallelPaths: 'hidden: paths beside it carry on',
}

/** Why joints stay hidden. */
export const whyTexts: Readonly<Record<HiddenJoints['why'], string>> = {
  addPair: 'No pair of the plan shows them; another pair within reach would.',
  noAccess:
    'Only a pair would show them that has an end which no clip reaches, or that is longer than the lead.',
  finerKit:
    'The change is smaller than this instrument, leads and sound joints hide; a four-wire tester would show it.',
  parallelPaths: 'Paths beside them carry their current on: no reading between two points shows them.',
}

export const shownSights = ['criterion', 'comparison'] as const
export const hiddenSights = ['addPair', 'noAccess', 'finerKit', 'parallelPaths'] as const

export function shownOf({ counts }: CoverageAnswer): number {
  return counts.criterion + counts.comparison
}

/** The whole in one sentence. */
export function describeCoverage(answer: CoverageAnswer): string {
  const shown = shownOf(answer)
  const of = formatCounted(answer.joints, 'joint')
  return (
    `${formatCount(shown)} of ${of} would show if one ${severityTexts[answer.severity].said}` +
    `${answer.joints === 0 ? '' : ` (${formatShare(shown / answer.joints)})`}.`
  )
}

/** What stands behind the counts. */
export function describeCoverageMore(answer: CoverageAnswer): readonly string[] {
  return [
    `Shown by two pairs or more, so that one spoiled reading hides none: ${formatCount(answer.twice)}.`,
    `Told apart from every other joint: ${formatCount(answer.toldApart)}.`,
    `About ${formatExpected(answer.expectedBad)} of the joints are expected bad, ` +
      `${formatExpected(answer.expectedBadUnseen)} of these among the hidden ones.`,
  ]
}

export function describePlanKit({ kit, lead, reachM }: PlanKit, units: Units): string {
  const leads = lead === null ? '' : `, ${nameLead(lead, units)}`
  return `With ${printable(kit.name)} (${nameKitMethod(kit)})${leads}; reaches ${formatLength(reachM, units)}.`
}

/** `38 clamps`: of one kind and hidden for one reason. */
export function describeHidden({ joints, kind }: HiddenJoints, book: NameBook): string {
  return `${formatCount(joints)} × ${nameKind(book, kind)}`
}

/** What its own ends read, sound and bad. */
export function describeExample({ example, soundOhm, badOhm }: HiddenJoints, book: NameBook): string {
  const unit = sharedOhmUnit([soundOhm, Number.isFinite(badOhm) ? badOhm : null])
  const bad = Number.isFinite(badOhm) ? formatOhm(badOhm, unit) : 'no path'
  return `${nameJoint(book, example)}: across it ${formatOhm(soundOhm, unit)} with it sound, ${bad} with it bad.`
}

/** What may be done, as a phrase. */
export function describeCure(cure: Cure, book: NameBook): string {
  const { units } = book.drawing.facts
  switch (cure.cure) {
    case 'addPair':
      return `the pair ${namePair(book, cure.from, cure.to)}`
    case 'testStud':
      return `a bare stud or test point on ${namePart(book, cure.part)}`
    case 'longerLead':
      return `a lead of at least ${formatLength(cure.lengthM, units)}`
    case 'fourWireKit':
      return 'a four-wire bond tester'
    case 'loopClamp':
      return `a loop clamp round ${nameJoint(book, cure.joint)}`
    case 'lookAndTorque':
      return 'a look and a torque check, which is all that shows it'
    case 'secondJumper':
      return `a second jumper, ${namePair(book, cure.from, cure.to)}, so that the loss of one does no harm`
  }
}

export function describeLookAlike({ count, joints }: LookAlike, book: NameBook): string {
  const named = joints.slice(0, 3).map((joint) => nameJoint(book, joint))
  const more = count - named.length
  return `${formatCounted(count, 'joint')}: ${inWords(more > 0 ? [...named, `${formatCount(more)} more`] : named)}.`
}

/** What a pair reads and shows, for its line in the list. */
export function describePairSight(pair: PairSight): string {
  const reads = Number.isFinite(pair.expectedOhm) ? formatRoughOhm(pair.expectedOhm) : 'no metal path'
  if (pair.noAccess.length > 0) return `${reads} · no clip gets there`
  if (pair.tooFarM !== null) return `${reads} · too far apart for the lead`
  const alone = pair.alone > 0 ? `, ${formatCount(pair.alone)} that no other pair shows` : ''
  return `${reads} · shows ${formatCount(pair.shows)}${alone}`
}

/** The same in full, for the card of the pair. */
export function describePairInFull(pair: PairSight, book: NameBook): readonly string[] {
  const { units } = book.drawing.facts
  const unit = sharedOhmUnit([Number.isFinite(pair.expectedOhm) ? pair.expectedOhm : null])
  const expected = Number.isFinite(pair.expectedOhm)
    ? `A sound array reads ${formatOhm(pair.expectedOhm, unit)} here, give or take ${formatRoughOhm(pair.sdOhm, unit)}.`
    : 'As drawn, no metal joins the two: it reads no bond.'
  return [
    expected,
    pair.levelOhm === null
      ? 'No criterion applies to it.'
      : `More than ${formatOhm(pair.levelOhm)} is to be investigated.`,
    ...(pair.tooFarM === null
      ? []
      : [`Its ends are ${formatLength(pair.tooFarM, units)} apart: the lead does not span that.`]),
    ...pair.noAccess.map((part) => `No clip reaches ${namePart(book, part)}.`),
    `It shows ${formatCounted(pair.shows, 'joint')}, ${formatCount(pair.alone)} of them alone.`,
  ]
}

/** How a joint would show, for whoever tapped it. */
export function describeSight(sight: Sight, shownBy: number, severity: PlanSeverity): string {
  const said = `If it ${severityTexts[severity].said}`
  const by = shownBy >= 255 ? '255 pairs or more' : formatCounted(shownBy, 'pair')
  switch (sight) {
    case 'criterion':
      return `${said}, the plan would show it: a reading over its criterion. It shows in ${by}.`
    case 'comparison':
      return `${said}, no reading would be over its criterion, but it would stand out beside what is expected. It shows in ${by}.`
    case 'addPair':
      return `${said}, no pair of the plan would show it. Another pair within reach would.`
    case 'noAccess':
      return `${said}, only a pair would show it that no clip or no lead reaches.`
    case 'finerKit':
      return `${said}, this instrument would not show it in any pair. A four-wire tester would.`
    case 'parallelPaths':
      return `${said}, no reading between two points would show it: the paths beside it carry on.`
    case 'cannotFail':
      return 'Its kind has no rate of going bad in the catalogue: it is not counted.'
  }
}

/** In which pair it shows, and how far that rises. */
export function describeSeen({
  pair,
  byCriterion,
  soundOhm,
  badOhm,
}: JointSightAnswer['seenBy'][number]): string {
  const unit = sharedOhmUnit([soundOhm, Number.isFinite(badOhm) ? badOhm : null])
  const bad = Number.isFinite(badOhm) ? formatOhm(badOhm, unit) : 'no path'
  const how = byCriterion ? 'over the criterion' : 'by comparison'
  return `Pair ${pair + 1}, ${how}: ${formatOhm(soundOhm, unit)} sound, ${bad} bad`
}

/** The sight of a number, as an answer has it for each joint. */
export function sightOf(number: number | undefined): Sight | null {
  return number === undefined ? null : (sights[number] ?? null)
}
