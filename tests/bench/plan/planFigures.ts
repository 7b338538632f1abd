import type { PairBound, PlanSeverity } from '../../../src/model/planning.ts'
import type { OtherName } from './otherPlans.ts'

/** What is asked of a plan here. */
export const askedOf = {
  showing: { title: 'showing', tellApart: 0, timesShown: 1 },
  telling: { title: 'telling apart', tellApart: 1, timesShown: 1 },
  twice: { title: 'telling apart, shown twice', tellApart: 1, timesShown: 2 },
} as const
export type AskedName = keyof typeof askedOf

export interface Shows {
  readonly pairs: number
  readonly seen: number
  readonly twice: number
  readonly toldApart: number
  readonly setUps: number
  readonly wayM: number
  readonly minutes: number
}

export interface Hits {
  readonly hits: number
  readonly tries: number
}

/** A line of the results: one site, one way of asking. */
export interface PlanFigures {
  readonly program: string
  readonly commit: string
  readonly site: string
  readonly asked: AskedName
  /** Joints that can go bad, candidates chosen from. */
  readonly joints: number
  readonly candidates: number
  readonly plan: Shows & {
    readonly bound: PairBound | null
    readonly wayBoundM: number
    readonly seconds: number
    readonly cpuSeconds: number
    readonly mostMB: number
  }
  /**
   * What all pairs in reach and access show together and tell apart; where they are too many for that, what the plan shows
   * and the pairs round each joint's own ends would, and told apart is not known.
   */
  readonly attainable: {
    readonly by: 'allPairs' | 'ownEnds'
    readonly seen: number
    readonly toldApart: number | null
  }
  /** Other plans of as many pairs. */
  readonly others: Readonly<Record<OtherName, Shows>>
  /** How often the group of a joint that was opened was ranked first by the readings of each plan. */
  readonly hits: Readonly<Partial<Record<'plan' | OtherName, Hits>>>
}

/** Starting patterns as they are laid out, each with what it shows. */
export interface PatternFigures {
  readonly program: string
  readonly commit: string
  readonly site: string
  readonly pattern: string
  readonly attainableSeen: number
  readonly shows: Shows
}

/** What is planted: an open joint, or one with a hundred times its ohms. */
export type PlantedSeverity = Extract<PlanSeverity, 'open' | 'hundredfold'>

/** A break that was planted, and at which place the ranking had it. Infinity is written as null. */
export interface BreakFigure {
  readonly program: string
  readonly commit: string
  readonly site: string
  readonly asked: AskedName
  readonly severity: PlantedSeverity
  readonly noise: string
  readonly joint: string
  readonly rank: number | null
}
