import { reportPictures } from '../canvas/reportMap.ts'
import { indexSite } from '../layout/siteIndex.ts'
import type { DrawPlanMap, DrawReportMaps } from '../panels/report/reportMaps.ts'
import { readingMarks, suspectMarks } from '../state/mapMarks.ts'
import { planLines } from '../state/planMarks.ts'
import { verdictsOf } from '../state/readingLook.ts'
import { drawnReadings } from './mapScene.svelte.ts'

/** Width of a sheet between its margins, in CSS pixels, and so much of its height that a title fits above. */
const pagePx = { widthPx: 700, mostHeightPx: 820 } as const

/** The maps of a report: readings and suspects of its own answers, nothing that is picked on the screen. */
export const drawReportMaps: DrawReportMaps = ({ site, locate, judge }, titleOf) => {
  const indexed = indexSite(site.drawing)
  if (!indexed.ok) return []
  const index = indexed.value
  const drawn = drawnReadings(site)
  const verdicts = verdictsOf(locate, judge)
  const marks = {
    readings: readingMarks(index, drawn, verdicts, null),
    suspects: suspectMarks(index, locate, null),
  }
  const found = reportPictures(index, marks, (rank) => titleOf('found', rank), pagePx)
  if (drawn.length === 0) return found.map((picture) => ({ kind: 'found', ...picture }))
  const timesMarks = { readings: readingMarks(index, drawn, verdicts, null, 'times'), suspects: [] }
  const times = reportPictures(index, timesMarks, (rank) => titleOf('times', rank), pagePx)
  return [
    ...found.map((picture) => ({ kind: 'found' as const, ...picture })),
    ...times.map((picture) => ({ kind: 'times' as const, ...picture })),
  ]
}

/** A sheet lies on its side. */
const sheetPx = { widthPx: 1000, mostHeightPx: 560 } as const

/** The whole site with the pairs of a plan, numbered as on the sheet. */
export const drawPlanMap: DrawPlanMap = (site, id) => {
  const indexed = indexSite(site.drawing)
  const plan = site.drawing.plans.find((one) => one.id === id)
  if (!indexed.ok || !plan || plan.pairs.length === 0) return null
  const marks = { readings: planLines(indexed.value, plan, null), suspects: [] }
  return reportPictures(indexed.value, marks, () => '', sheetPx).at(0)?.svg ?? null
}
