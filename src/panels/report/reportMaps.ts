import type { JudgeAnswer, LocateAnswer } from '../../model/answers.ts'
import type { Site } from '../../model/schema/site.ts'

/** A map of a report, as the address of an image. */
export interface ReportMap {
  readonly title: string
  readonly source: string
}

/** Readings by what was found, or as multiples of what was expected. */
export type ReportMapKind = 'found' | 'times'

/** What the page's map draws for paper, with the readings and suspects of these answers. */
export type DrawReportMaps = (
  of: { readonly site: Site; readonly locate: LocateAnswer; readonly judge: JudgeAnswer },
  titleOf: (kind: ReportMapKind, rank: number | null) => string,
) => readonly { readonly kind: ReportMapKind; readonly rank: number | null; readonly svg: string }[]

/** Where the pairs of a plan are, as SVG for paper; null where that cannot be drawn. */
export type DrawPlanMap = (site: Site, plan: string) => string | null

/** An SVG as the address of an image: nothing in it can run, and its names never meet those of the page. */
export function imageOf(svg: string): string {
  return `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`
}
