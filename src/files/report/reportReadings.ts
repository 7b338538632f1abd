import { formatInstant } from '../../text/instants.ts'
import { formatOhm, formatOhmSpread } from '../../text/ohms.ts'
import type { NameBook } from '../../text/places.ts'
import { nameReadingPlace, placeOf } from '../../text/readingPlace.ts'
import {
  describeLeadIn,
  describeLowCurrent,
  findingWords,
  formatReportOhm,
  methodWords,
  reportTexts,
  setAsideWords,
  stateMarks,
  stateWords,
} from '../../text/reportText.ts'
import { paragraph } from '../../text/sections.ts'
import { formatCounted } from '../../text/units.ts'
import { printable } from '../../text/where.ts'
import { heading, lines, table, type ReportBlock, type ReportColumn, type ReportRow } from './reportBlocks.ts'
import { plotBlocks } from './reportPlots.ts'
import type { ReadingGroup, ReportData, ReportReading } from './reportTypes.ts'

const columns: readonly ReportColumn[] = [
  { title: 'No.', isNumber: true, share: 0.05 },
  { title: 'When', share: 0.15 },
  { title: 'Where', share: 0.25 },
  { title: 'Read', isNumber: true, share: 0.09 },
  { title: 'Expected', isNumber: true, share: 0.12 },
  { title: 'Level', isNumber: true, share: 0.09 },
  { title: 'State', share: 0.12 },
  { title: 'Finding and remarks' },
]

export function readingsBlocks(data: ReportData, book: NameBook): readonly ReportBlock[] {
  if (data.groups.length === 0) return [lines(paragraph(reportTexts.noReadings))]
  return [
    ...plotBlocks(data, book),
    ...(data.comparison === null ? [] : [heading(reportTexts.eachReading)]),
    lines(paragraph(reportTexts.expectedNote)),
    ...data.groups.map((group) =>
      table(
        nameGroup(group),
        columns,
        group.readings.map((reading) => readingRow(reading, book)),
      ),
    ),
  ]
}

function nameGroup({ criterion, method, readings }: ReadingGroup): string {
  const against =
    criterion === null ? 'held against no criterion' : `held against “${printable(criterion.name)}”`
  return `${formatCounted(readings.length, 'reading')}, ${methodWords[method]}, ${against}`
}

export function readingRow(reading: ReportReading, book: NameBook): ReportRow {
  const { entry, number, state, answer, judged } = reading
  return {
    key: entry,
    cells: [
      String(number),
      formatInstant(reading.reading.at),
      nameReadingPlace(book, placeOf(reading.reading)),
      formatReportOhm(reading.readOhm, reading.atLeastOhm, reading.stepOhm),
      answer && answer.verdict !== 'setAside' ? formatOhmSpread(answer.expectedOhm, answer.spreadOhm) : '',
      judged ? levelsText(judged.investigateOhm, judged.rejectOhm) : '',
      `${stateMarks[state]} ${stateWords[state]}`,
      remarksOf(reading),
    ],
    ...(asksForSomething(reading) ? { mark: 'attention' as const } : {}),
    ...(state === 'withdrawn' ? { mark: 'struck' as const } : {}),
  }
}

/** Above a level, without a value, or not what the network predicts. */
function asksForSomething({ state, answer }: ReportReading): boolean {
  const finding = answer?.verdict
  if (state === 'withdrawn' || state === 'notCounted') return false
  return state === 'investigate' || state === 'reject' || (finding !== undefined && finding !== 'inLine')
}

/** `512 mΩ`, or both levels where there are two. */
function levelsText(investigateOhm: number | null, rejectOhm: number | null): string {
  if (investigateOhm === null) return rejectOhm === null ? '' : formatOhm(rejectOhm)
  return rejectOhm === null
    ? formatOhm(investigateOhm)
    : `${formatOhm(investigateOhm)}; ${formatOhm(rejectOhm)}`
}

function remarksOf({ answer, judged, reading, isCorrected }: ReportReading): string {
  const { note, reverseOhm, unsteady } = reading
  const reason = answer?.setAside ?? null
  const lowCurrent = judged?.lowCurrent ?? null
  const remarks = [
    answer ? (reason === null ? findingWords[answer.verdict] : setAsideWords[reason]) : '',
    answer?.isLeadIn === true ? describeLeadIn(answer.leadOffsetOhm) : '',
    reverseOhm === null ? '' : `reversed ${formatReportOhm(reverseOhm, null, null)}`,
    unsteady === null
      ? ''
      : `unsteady, ${formatReportOhm(unsteady.leastOhm, null, null)} to ${formatReportOhm(unsteady.mostOhm, null, null)}`,
    lowCurrent === null ? '' : describeLowCurrent(lowCurrent),
    judged?.otherQuantity === true ? reportTexts.otherQuantity : '',
    isCorrected ? 'corrected, see changes' : '',
    note.trim() === '' ? '' : `“${printable(note, 400)}”`,
  ]
  return remarks.filter((remark) => remark !== '').join('; ')
}
