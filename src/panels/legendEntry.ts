import type { LegendName } from '../text/legendText.ts'

/** One of a few sample values of something that is drawn by degrees. */
export interface LegendSample {
  readonly value: number
  /** Of a line of a fault's current, in CSS pixels. */
  readonly widthPx?: number
}

/**
 * What the map says it shows: one sort of thing, with samples where it is drawn by degrees. How it is drawn is the
 * map's own business and travels in the entry unread.
 */
export interface LegendEntry {
  readonly key: LegendName
  readonly steps: readonly LegendSample[]
  /** How size or width grows with the value, and the smallest value that is drawn. */
  readonly scale: { readonly form: 'squareRoot' | 'steps'; readonly leastShown: number } | null
}
