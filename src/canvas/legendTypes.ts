import type { Palette } from './palette.ts'
import type { SightForm } from './sightMarks.ts'

/** What a legend entry stands for; its words are the reader's business. */
export type LegendKey =
  | 'table'
  | 'module'
  | 'longMember'
  | 'crossMember'
  | 'post'
  | 'joint'
  | 'splice'
  | 'jumper'
  | 'conductor'
  | 'conductorEnd'
  | 'addedJoint'
  | 'missingJoint'
  | 'enclosure'
  | 'earthBar'
  | 'rod'
  | 'plate'
  | 'strip'
  | 'aisle'
  | 'obstacle'
  | 'suspect'
  | 'current'
  | 'faultCurrent'
  | 'faultVolts'
  | 'lostVolts'
  | 'groundVolts'
  | 'groundStep'
  | 'groundStand'
  | 'faultPlace'
  | 'secondFault'
  | 'touching'
  | 'changedJoint'
  | 'nextReading'
  | 'walkWay'
  | 'setUp'
  | SightKey

/** What a plan would show: of joints near, and of tables from far. */
export type SightKey =
  | 'seenByCriterion'
  | 'seenByComparison'
  | 'hiddenAddPair'
  | 'hiddenNoAccess'
  | 'hiddenFinerKit'
  | 'hiddenParallelPaths'
  | 'hiddenAny'
  | 'tableAll'
  | 'tableMost'
  | 'tableFew'
  | 'tableNone'

/** How it is drawn, sizes in CSS pixels. */
export type Swatch =
  | { readonly shape: 'area'; readonly fill: string; readonly edge: string }
  | {
      readonly shape: 'line'
      readonly colour: string
      readonly rim: string | null
      readonly widthPx: number
      readonly isDashed: boolean
      /** Two lines of this width side by side. */
      readonly isDouble: boolean
    }
  | {
      readonly shape: 'dot' | 'square' | 'cross'
      readonly colour: string
      readonly rim: string
      readonly sizePx: number
    }
  | {
      readonly shape: 'sight'
      readonly form: SightForm
      readonly sizePx: number
      readonly inks: Pick<Palette, 'shown' | 'compared' | 'hidden' | 'halo'>
    }
  | {
      readonly shape: 'tableShare'
      /** So much of each dash is filled. */
      readonly share: number
      readonly fill: string
      readonly empty: string
      readonly edge: string
    }
  | { readonly shape: 'setUp'; readonly inks: Palette }
  | {
      readonly shape: 'ground'
      readonly fill: string
      readonly before: string
      readonly line: string
      readonly linePx: number
    }
  | { readonly shape: 'groundStep' | 'groundStand'; readonly inks: Palette }
  | { readonly shape: 'faultPlace' | 'secondFault' | 'touching' | 'changedJoint'; readonly inks: Palette }
  | { readonly shape: 'next'; readonly colour: string; readonly rim: string }
  | {
      readonly shape: 'enclosure' | 'earthBar' | 'rod' | 'plate'
      readonly colour: string
      readonly fill: string
    }

/** One of a few sample values of something that is drawn by degrees. */
export interface LegendStep {
  readonly value: number
  readonly swatch: Swatch
  /** Of a line of a fault's current, in CSS pixels. */
  readonly widthPx?: number
}

export interface LegendEntry {
  readonly key: LegendKey
  readonly swatch: Swatch
  /** Probabilities, shares of one ampere, amperes, volts; empty for what has no degrees. */
  readonly steps: readonly LegendStep[]
  /** How size or width grows with the value, and the smallest value that is drawn. */
  readonly scale: { readonly form: 'squareRoot' | 'steps'; readonly leastShown: number } | null
}
