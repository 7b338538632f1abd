import type { ComparisonAnswer, ComparisonGroup } from '../../model/comparison.ts'
import { effectiveRecord } from '../../model/record/effectiveRecord.ts'
import {
  comparisonTexts,
  describeChange,
  describeComparison,
  describeDot,
  describeGroupState,
  describeKey,
  describeLeftOut,
  describeNotDrawn,
  describeRate,
  describeShift,
  describeVisits,
  nameGroup,
  nameVisit,
  openComparisonBook,
  type ComparisonBook,
} from '../../text/comparisonText.ts'
import type { NameBook } from '../../text/places.ts'
import { describeLeadInPlot } from '../../text/reportText.ts'
import { item, paragraph } from '../../text/sections.ts'
import { stripSvg } from '../strip/stripSvg.ts'
import { heading, lines, type ReportBlock } from './reportBlocks.ts'
import type { ReportData } from './reportTypes.ts'

/** Width of a page between its margins, in CSS pixels. */
const pagePx = 700
/** So many groups are drawn; what is left is told by number. */
const mostPlots = 24
const mostChanges = 20

/** Readings held against others that should read alike: a plot of each group, what stands out in it named below. */
export function plotBlocks(data: ReportData, names: NameBook): readonly ReportBlock[] {
  const { comparison } = data
  if (comparison === null) return []
  const book = bookOf(data, names)
  const leftOut = describeLeftOut(comparison)
  const head = [heading(comparisonTexts.title), lines(paragraph(describeComparison(comparison)))]
  const rest = lines(...(leftOut === null ? [] : [paragraph(leftOut)]))
  if (comparison.groups.length === 0) return [...head, rest]
  const groups = [...comparison.groups].sort((a, b) => Number(isTelling(b)) - Number(isTelling(a)))
  const left = groups.slice(mostPlots)
  const leadIn = new Set(
    data.groups.flatMap(({ readings }) =>
      readings.flatMap(({ entry, answer }) => (answer?.isLeadIn === true ? [entry] : [])),
    ),
  )
  return [
    ...head,
    lines(paragraph(comparisonTexts.intro), paragraph(describeRate(comparison))),
    ...groups.slice(0, mostPlots).flatMap((group) => groupBlocks(group, book, leadIn)),
    ...(left.length === 0 ? [] : [lines(paragraph(describeNotDrawn(left)))]),
    rest,
    ...sharedBlocks(comparison, book),
  ]
}

/** Readings keep the numbers that they have in the whole record, whichever visits the report is of. */
function bookOf({ site, groups }: ReportData, names: NameBook): ComparisonBook {
  const record = effectiveRecord(site.record).map(({ entry }) => entry)
  const all = groups.flatMap(({ readings }) => readings)
  return {
    ...openComparisonBook(names, record),
    numbers: new Map(all.map(({ entry, number }) => [entry, number])),
  }
}

const isTelling = ({ readings, whole }: ComparisonGroup) =>
  whole?.isHigh === true || readings.some(({ standing }) => standing !== 'alike')

function groupBlocks(
  group: ComparisonGroup,
  book: ComparisonBook,
  leadIn: ReadonlySet<string>,
): readonly ReportBlock[] {
  const title = `${nameGroup(group, book)}, ${nameVisit(group.visit, book)}`
  const state = describeGroupState(group)
  const out = group.readings.filter(({ standing }) => standing !== 'alike').sort((a, b) => b.ratio - a.ratio)
  const through = group.readings.filter(({ entry }) => leadIn.has(entry)).length
  const svg = stripSvg(group, { widthPx: pagePx, numberOf: (entry) => book.numbers.get(entry) ?? 0 })
  return [
    { form: 'plot', title, said: state, svg, key: describeKey(group) },
    ...(through === 0 ? [] : [lines(paragraph(describeLeadInPlot(through, group.readings.length)))]),
    ...(out.length === 0
      ? []
      : [lines(...out.map((reading) => item(`${describeDot(reading, group, book)}.`)))]),
  ]
}

/** What readings share beside their groups, and what changed between visits. */
function sharedBlocks({ shifts, visits }: ComparisonAnswer, book: ComparisonBook): readonly ReportBlock[] {
  return [
    ...(shifts.length === 0
      ? []
      : [
          heading(comparisonTexts.shifts),
          lines(...shifts.map((shift) => paragraph(describeShift(shift, book)))),
        ]),
    ...(visits.length === 0
      ? []
      : [
          heading(comparisonTexts.visits),
          lines(
            ...visits.flatMap((one) => [
              paragraph(describeVisits(one, book)),
              ...one.changed.slice(0, mostChanges).map((pair) => item(describeChange(pair, book))),
            ]),
          ),
        ]),
  ]
}
