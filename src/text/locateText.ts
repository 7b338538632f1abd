import { unreachable } from '../base/assert.ts'
import type { LocateAnswer, ReadingVerdict } from '../model/answers.ts'
import { describeCoverage, describeReach } from './coverageText.ts'
import { describeNote } from './notes.ts'
import { describeNothing, describeRest } from './panelText.ts'
import type { NameBook } from './places.ts'
import { describeNulling, describeReading } from './readingText.ts'
import { item, paragraph, type TextLine, type TextSection } from './sections.ts'
import { describeGroup, describeWho } from './suspectText.ts'
import { formatChance, formatCounted } from './units.ts'

export interface LocateTextOptions {
  /** Groups that are written out; where left out, those of 1 % and more, at most five. */
  readonly groups?: number
  /** Readings that are written out one by one. */
  readonly readings?: number
}

/** An answer of locate as sections of plain sentences; sections with nothing to say are left out. */
export function describeLocate(
  answer: LocateAnswer,
  book: NameBook,
  { groups = groupsWorthTelling(answer), readings = 40 }: LocateTextOptions = {},
): TextSection[] {
  const sections: TextSection[] = [
    { title: 'Answer', lines: describeHeadline(answer, book) },
    { title: 'Suspects', lines: describeSuspects(answer, book, groups) },
    { title: 'Readings', lines: describeReadings(answer, book, readings) },
    {
      title: 'Leads',
      lines: answer.nullings.map((nulling, k) => paragraph(describeNulling(nulling, k + 1))),
    },
    { title: 'What could not be seen', lines: describeCoverage(answer, book) },
    { title: 'How well it fits', lines: describeFit(answer, book) },
    {
      title: 'What this rests on',
      lines: answer.notes.map((note) => paragraph(describeNote(note, book.drawing.facts.units))),
    },
  ]
  return sections.filter(({ lines }) => lines.length > 0)
}

function groupsWorthTelling({ groups }: LocateAnswer): number {
  return Math.min(5, Math.max(1, groups.filter(({ probability }) => probability >= 0.01).length))
}

/** An answer for the head of a page: what and where, how likely, what to do. */
export interface Headline {
  readonly lead: string
  /** How likely the lead is; null where no chance goes with it. */
  readonly chance: string | null
  /** What to do about it, or what it does not say. */
  readonly next: string
  readonly about: readonly string[]
}

export function headlineOf(answer: LocateAnswer, book: NameBook): Headline {
  const [first] = answer.groups
  const none = formatChance(answer.nothingBrokenProbability)
  switch (answer.headline) {
    case 'noReadings':
      return {
        lead: 'No reading can be counted, so nothing can be said about any joint.',
        chance: null,
        next: 'Take readings first.',
        about: [],
      }
    case 'nothingBroken':
      return {
        lead: 'The readings point to no bad joint.',
        chance: `The chance that no joint they can show is bad is ${none}.`,
        next: 'They say nothing about the joints they cannot show.',
        about: [],
      }
    case 'suspects':
      return {
        lead: `Lead for inspection: ${describeWho(first, book)}.`,
        chance: `${formatChance(first.probability)} likely, among joints that these readings can show.`,
        next:
          'Look and check its torque, then put a temporary bond across it and repeat the readings that ' +
          'speak for it.',
        about: first.joints.map(({ joint }) => joint),
      }
    case 'undecided':
      return {
        lead: 'The readings do not decide.',
        chance: describeCandidates(answer, book),
        next:
          'Repeat the readings that are higher than expected after re-seating the clips, then measure on both ' +
          'sides of the suspects.',
        about: [],
      }
    case 'doesNotFit':
      return {
        lead: 'The drawing and the readings disagree, and no explanation tried brings them together.',
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

/** The answer in two or three sentences, and how far it reaches. */
export function describeHeadline(answer: LocateAnswer, book: NameBook): TextLine[] {
  const { lead, chance, next, about } = headlineOf(answer, book)
  const whole = [lead, chance, next].filter((sentence) => sentence !== null).join(' ')
  const reach = answer.headline === 'noReadings' ? null : describeReach(answer)
  return [
    about.length > 0 ? paragraph(whole, about) : paragraph(whole),
    ...(reach === null ? [] : [paragraph(reach)]),
  ]
}

function describeCandidates(answer: LocateAnswer, book: NameBook): string {
  const [first, second] = answer.groups
  const none = `nothing bad at all (${formatChance(answer.nothingBrokenProbability)})`
  const most = first ? `${describeWho(first, book)} (${formatChance(first.probability)})` : null
  const next = second ? `${describeWho(second, book)} (${formatChance(second.probability)})` : null
  return `Most likely are: ${[most, next, none].filter((candidate) => candidate !== null).join('; ')}.`
}

function describeSuspects(answer: LocateAnswer, book: NameBook, most: number): TextLine[] {
  if (answer.groups.length === 0) return []
  const shown = answer.groups.slice(0, most)
  return [
    ...shown.flatMap((group, k) => describeGroup(answer, group, k + 1, book)),
    paragraph(
      `${describeNothing(answer)}: ${formatChance(answer.nothingBrokenProbability)}. ` +
        describeRest(answer, shown.length),
    ),
  ]
}

/** What has to be told comes first; readings in line are counted, not written out. */
const telling: readonly ReadingVerdict[] = [
  'noMetalPath',
  'overRange',
  'poorContact',
  'highUnexplained',
  'tooLow',
  'highBySuspect',
  'setAside',
]

function describeReadings(answer: LocateAnswer, book: NameBook, most: number): TextLine[] {
  if (answer.readings.length === 0) return []
  const indices = telling.flatMap((verdict) =>
    answer.readings.flatMap((reading, k) => (reading.verdict === verdict ? [k] : [])),
  )
  const inLine = answer.readings.filter(({ verdict }) => verdict === 'inLine').length
  const left = indices.length - most
  return [
    paragraph(
      `${formatCounted(answer.readings.length, 'reading')}, ${inLine} of them as the network predicts.`,
    ),
    ...indices.slice(0, most).map((k) => {
      const { from, to } = answer.readings[k]
      return item(describeReading(answer, k, book), [from, to])
    }),
    ...(left > 0 ? [item(`${formatCounted(left, 'reading')} more that are not in line.`)] : []),
  ]
}

/** How well the best explanation predicts the readings, and which reading it misses by most. */
export function describeFit(answer: LocateAnswer, book: NameBook): TextLine[] {
  if (answer.headline === 'noReadings') return []
  const share = formatChance(answer.fit)
  if (answer.fit >= 0.05)
    return [
      paragraph(
        `The best explanation predicts the readings well: if it holds, ${share} of outcomes are no likelier than these.`,
      ),
    ]
  const worst = worstReading(answer)
  const where =
    worst === null ? '' : ` Most of it comes from this one. ${describeReading(answer, worst, book)}`
  return [
    paragraph(
      `The best explanation predicts the readings badly: if it holds, ${share} of outcomes are no likelier than these. ` +
        `Something may be built or measured otherwise than entered.${where}`,
    ),
  ]
}

function worstReading({ readings }: LocateAnswer): number | null {
  let worst: number | null = null
  let most = 0
  readings.forEach(({ verdict, readOhm, expectedWithSuspectOhm, spreadOhm }, k) => {
    if (verdict === 'setAside' || readOhm === null || !(spreadOhm > 0)) return
    const distance = Math.abs(readOhm - expectedWithSuspectOhm) / spreadOhm
    if (distance > most && Number.isFinite(distance)) {
      most = distance
      worst = k
    }
  })
  return worst
}
