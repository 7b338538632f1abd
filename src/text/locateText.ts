import type { LocateAnswer, ReadingVerdict } from '../model/answers.ts'
import { describeCounts } from './badCountText.ts'
import { describeCoverage } from './coverageText.ts'
import { describeToningDown } from './doubtText.ts'
import { describeHeadline } from './headlineText.ts'
import { describeLevel, levelsTitle } from './levelsText.ts'
import { describeNote } from './notes.ts'
import { describeNothing, describeRest } from './panelText.ts'
import type { NameBook } from './places.ts'
import { describeNulling, describeReading } from './readingText.ts'
import { item, paragraph, type TextLine, type TextSection } from './sections.ts'
import { describeGroup } from './suspectText.ts'
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
    { title: levelsTitle, lines: answer.levels.map((level) => paragraph(describeLevel(level, book))) },
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

function describeSuspects(answer: LocateAnswer, book: NameBook, most: number): TextLine[] {
  if (answer.groups.length === 0) return []
  const shown = answer.groups.slice(0, most)
  const counts = describeCounts(answer)
  return [
    ...(counts === null ? [] : [paragraph(counts)]),
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

/** How well the best explanation predicts the readings, which reading it misses by most, and what was made of that. */
export function describeFit(answer: LocateAnswer, book: NameBook): TextLine[] {
  if (answer.headline === 'noReadings') return []
  const toned = describeToningDown(answer)
  return [paragraph(describePrediction(answer, book)), ...(toned === null ? [] : [paragraph(toned)])]
}

function describePrediction(answer: LocateAnswer, book: NameBook): string {
  const share = formatChance(answer.fit)
  if (answer.fit >= 0.05)
    return `The best explanation predicts the readings well: if it holds, ${share} of outcomes are no likelier than these.`
  const worst = worstReading(answer)
  const where =
    worst === null ? '' : ` Most of it comes from this one. ${describeReading(answer, worst, book)}`
  return (
    `The best explanation predicts the readings badly: if it holds, ${share} of outcomes are no likelier than these. ` +
    `Something may be built or measured otherwise than entered.${where}`
  )
}

function worstReading({ readings }: LocateAnswer): number | null {
  let worst: number | null = null
  let most = 0
  readings.forEach((reading, k) => {
    const { verdict, readOhm, expectedWithSuspectOhm, spreadOhm } = reading
    if (verdict === 'setAside' || readOhm === null || !(spreadOhm > 0)) return
    // what a mistake in the reading itself explains is no misfit
    if (reading.poorContactProbability > 0.5 || reading.tooLowProbability > 0.5) return
    const distance = Math.abs(readOhm - expectedWithSuspectOhm) / spreadOhm
    if (distance > most && Number.isFinite(distance)) {
      most = distance
      worst = k
    }
  })
  return worst
}
