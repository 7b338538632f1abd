import { unreachable } from '../base/assert.ts'
import type { LocateAnswer, ReadingVerdict } from '../model/answers.ts'
import { describeCoverage } from './coverageText.ts'
import { describeNote } from './notes.ts'
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

/** The answer in two or three sentences. */
export function describeHeadline(answer: LocateAnswer, book: NameBook): TextLine[] {
  const [first] = answer.groups
  const none = formatChance(answer.nothingBrokenProbability)
  switch (answer.headline) {
    case 'noReadings':
      return [
        paragraph('No reading can be counted, so nothing can be said about any joint. Take readings first.'),
      ]
    case 'nothingBroken':
      return [
        paragraph(
          `The readings point to no bad joint: the chance that no joint they can show is bad is ${none}. ` +
            `They say nothing about the joints they cannot show.`,
        ),
      ]
    case 'suspects':
      return [
        paragraph(
          `Lead for inspection: ${describeWho(first, book)}, ${formatChance(first.probability)} likely. ` +
            `Look and check its torque, then put a temporary bond across it and repeat the readings that speak for it.`,
          first.joints.map(({ joint }) => joint),
        ),
      ]
    case 'undecided':
      return [paragraph(describeUndecided(answer, book))]
    case 'doesNotFit':
      return [
        paragraph(
          'The drawing and the readings disagree, and no explanation tried brings them together. Check what was ' +
            'drawn where they disagree most, and repeat those readings, before any joint is blamed.',
        ),
      ]
    default:
      return unreachable(answer.headline)
  }
}

function describeUndecided(answer: LocateAnswer, book: NameBook): string {
  const [first, second] = answer.groups
  const none = `nothing bad at all (${formatChance(answer.nothingBrokenProbability)})`
  const most = first ? `${describeWho(first, book)} (${formatChance(first.probability)})` : null
  const next = second ? `${describeWho(second, book)} (${formatChance(second.probability)})` : null
  const candidates = [most, next, none].filter((candidate) => candidate !== null)
  return (
    `The readings do not decide. Most likely are: ${candidates.join('; ')}. Repeat the readings that are ` +
    `higher than expected after re-seating the clips, then measure on both sides of the suspects.`
  )
}

function describeSuspects(answer: LocateAnswer, book: NameBook, most: number): TextLine[] {
  if (answer.groups.length === 0) return []
  const shown = answer.groups.slice(0, most)
  const hidden = answer.groups.slice(most).reduce((sum, { probability }) => sum + probability, 0)
  const rest = hidden + answer.otherProbability
  return [
    ...shown.flatMap((group, k) => describeGroup(answer, group, k + 1, book)),
    paragraph(
      `Nothing bad among the joints that can be seen: ${formatChance(answer.nothingBrokenProbability)}. ` +
        `Anything not listed: ${formatChance(rest)}.`,
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
