import { formatShare } from '../../text/units.ts'
import type { TextLine } from '../../text/sections.ts'
import type { ReportPart } from '../../text/reportText.ts'

export interface ReportColumn {
  readonly title: string
  /** Numbers stand under each other at the right. */
  readonly isNumber?: boolean
  /** Share of the width, 0 … 1; what is left over goes to columns without one. */
  readonly share?: number
}

export interface ReportRow {
  readonly key: string
  readonly cells: readonly string[]
  /** `attention` is set in heavy letters, `struck` crossed out. */
  readonly mark?: 'attention' | 'struck'
}

/** A piece of a report in words: a page and a file of HTML show the same pieces. */
export type ReportBlock =
  | { readonly form: 'heading'; readonly text: string }
  | { readonly form: 'lines'; readonly lines: readonly TextLine[] }
  | {
      readonly form: 'facts'
      readonly facts: readonly { readonly term: string; readonly value: string }[]
    }
  | {
      readonly form: 'table'
      readonly caption: string
      readonly columns: readonly ReportColumn[]
      readonly rows: readonly ReportRow[]
    }
  /** A picture of its own making, with all that it shows in a sentence; `svg` is a whole document without scripts. */
  | {
      readonly form: 'plot'
      readonly title: string
      readonly said: string
      readonly svg: string
      readonly key: string
    }
  | { readonly form: 'maps' }
  | { readonly form: 'signing'; readonly roles: readonly string[] }

export interface ReportSection {
  readonly part: ReportPart
  readonly title: string
  readonly blocks: readonly ReportBlock[]
}

export const heading = (text: string): ReportBlock => ({ form: 'heading', text })
export const lines = (...said: readonly TextLine[]): ReportBlock => ({ form: 'lines', lines: said })

export function facts(...pairs: readonly (readonly [string, string])[]): ReportBlock {
  return { form: 'facts', facts: pairs.map(([term, value]) => ({ term, value })) }
}

export function table(
  caption: string,
  columns: readonly ReportColumn[],
  rows: readonly ReportRow[],
): ReportBlock {
  return { form: 'table', caption, columns, rows }
}

/** Width of a column as a share in per cent, for a style. */
export function widthOf({ share }: ReportColumn): string | null {
  return share === undefined ? null : formatShare(share).replace(' ', '')
}
