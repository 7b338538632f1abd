import { unreachable } from '../base/assert.ts'
import type { LocateAnswer, SuspectGroup } from '../model/answers.ts'
import { describeHowMany, likeliestCount } from './badCountText.ts'
import { describeReach } from './coverageText.ts'
import { describeDoubts } from './doubtText.ts'
import type { NameBook } from './places.ts'
import { item, paragraph, type TextLine } from './sections.ts'
import { describeWho } from './suspectText.ts'
import { capital, formatChance, formatCounted } from './units.ts'

/** An answer for the head of a page: what and where, how likely, what to do. */
export interface Headline {
  readonly lead: string
  /** Where several joints are likely bad: the first of them, one a line. */
  readonly suspects: readonly { readonly text: string; readonly about: readonly string[] }[]
  /** How likely the lead is; null where no chance goes with it. */
  readonly chance: string | null
  /** What to do about it, or what it does not say. */
  readonly next: string
  readonly about: readonly string[]
}

/** From here on a group is likelier bad than not. */
const likely = 0.5
const mostNamed = 3
/** A reading that gives more bits than this speaks for a joint. */
const leastBits = 1.5

export function headlineOf(answer: LocateAnswer, book: NameBook): Headline {
  const none = formatChance(answer.nothingBrokenProbability)
  switch (answer.headline) {
    case 'noReadings':
      return {
        lead: 'No reading can be counted, so nothing can be said about any joint.',
        suspects: [],
        chance: null,
        next: 'Take readings first.',
        about: [],
      }
    case 'nothingBroken':
      return {
        lead: 'The readings point to no bad joint.',
        suspects: [],
        chance: `The chance that no joint they can show is bad is ${none}.`,
        next: 'They say nothing about the joints they cannot show.',
        about: [],
      }
    case 'suspects':
      return likeliestCount(answer) > 1 ? several(answer, book) : oneSuspect(answer, book)
    case 'undecided':
      return {
        lead: 'The readings do not decide.',
        suspects: [],
        chance: describeCandidates(answer, book),
        next:
          'Repeat the readings that are higher than expected after re-seating the clips, then measure on both ' +
          'sides of the suspects.',
        about: [],
      }
    case 'doesNotFit':
      return {
        lead: 'The drawing and the readings disagree, and no explanation tried brings them together.',
        suspects: [],
        chance: null,
        next:
          'Check what was drawn where they disagree most, and repeat those readings, before any joint is ' +
          'blamed.',
        about: [],
      }
    default:
      return unreachable(answer.headline)
  }
}

function oneSuspect({ groups: [first] }: LocateAnswer, book: NameBook): Headline {
  return {
    lead: `Lead for inspection: ${describeWho(first, book)}.`,
    suspects: [],
    chance: `${formatChance(first.probability)} likely, among joints that these readings can show.`,
    next:
      'Look and check its torque, then put a temporary bond across it and repeat the readings that ' +
      'speak for it.',
    about: first.joints.map(({ joint }) => joint),
  }
}

/** More than one joint is likely bad: how many, and the first of them. */
function several(answer: LocateAnswer, book: NameBook): Headline {
  const suspected = answer.groups.filter(({ probability }) => probability >= likely)
  const named = suspected.slice(0, mostNamed)
  const unnamed = suspected.length - named.length
  const isOpen = suspected.length < likeliestCount(answer)
  const left = [
    ...(unnamed > 0 ? [`${formatCounted(unnamed, 'more lead')} of that kind below.`] : []),
    ...(isOpen ? ['The readings leave open where the rest are.'] : []),
  ]
  const [each, it] = named.length === 1 ? ['it', 'it'] : ['each', 'one at a time']
  return {
    lead: `${describeHowMany(answer)}. ${named.length === 1 ? 'Lead' : 'Leads'} for inspection:`,
    suspects: named.map((group) => ({
      text: describeNamed(group, book),
      about: group.joints.map(({ joint }) => joint),
    })),
    chance: [
      named.length === 1
        ? 'Among joints that these readings can show.'
        : 'Each by itself, among joints that these readings can show.',
      ...left,
    ].join(' '),
    next:
      `Look at ${each} and check its torque, then put a temporary bond across ${it} and repeat the readings that speak ` +
      'for it. One that is put right does not clear the others.',
    about: named.flatMap(({ joints }) => joints.map(({ joint }) => joint)),
  }
}

/** One high reading is repeated before anyone says "bad joint", also where other joints are bad. */
function describeNamed(group: SuspectGroup, book: NameBook): string {
  const single = speaking(group) === 1 ? ' on a single reading: repeat that first' : ''
  return `${capital(describeWho(group, book))}, ${formatChance(group.probability)} likely${single}.`
}

function speaking({ evidence }: SuspectGroup): number {
  return evidence.filter(({ bits }) => bits > leastBits).length
}

function describeCandidates({ groups, nothingBrokenProbability }: LocateAnswer, book: NameBook): string {
  const [first] = groups
  const none = `Nothing bad at all: ${formatChance(nothingBrokenProbability)}.`
  if (!first) return none
  const candidates = groups
    .slice(0, 2)
    .map((group) => `${describeWho(group, book)} (${formatChance(group.probability)})`)
  const single =
    first.probability >= likely && speaking(first) === 1
      ? ' Only a single reading speaks for the first so far, and that convicts no joint.'
      : ''
  return `Likeliest to be bad: ${candidates.join('; ')}. ${none}${single}`
}

/** The answer in a few sentences, what stands against it, and how far it reaches. */
export function describeHeadline(answer: LocateAnswer, book: NameBook): TextLine[] {
  const { lead, suspects, chance, next, about } = headlineOf(answer, book)
  const reach = answer.headline === 'noReadings' ? null : describeReach(answer)
  const after = [chance, next].filter((sentence) => sentence !== null).join(' ')
  const whole = suspects.length > 0 ? lead : `${lead} ${after}`
  return [
    about.length > 0 && suspects.length === 0 ? paragraph(whole, about) : paragraph(whole),
    ...suspects.map((suspect) => item(suspect.text, suspect.about)),
    ...(suspects.length > 0 ? [paragraph(after)] : []),
    ...describeDoubts(answer).map((doubt) => paragraph(doubt)),
    ...(reach === null ? [] : [paragraph(reach)]),
  ]
}
