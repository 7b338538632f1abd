import type { Basis, JudgedReading } from './answers.ts'
import type { PartKind } from './schema/planning.ts'
import type { EntryOf } from './schema/record.ts'

/** How the two ends of a pair lie to each other; the first that fits. */
export type PairRelation = 'toEarthBar' | 'sameTable' | 'neighbours' | 'sameRow' | 'betweenRows' | 'other'

/** What pairs have in common that should read alike, once each is held against what its network predicts. */
export interface PairClass {
  readonly method: EntryOf<'reading'>['method']
  readonly relation: PairRelation
  /** Kinds of the two ends, in the order of the part kinds; conductor ends on the bar count as the bar. */
  readonly ends: readonly [PartKind, PartKind]
  /** Table types of the ends that are parts of tables, sorted. */
  readonly tableTypes: readonly string[]
  /** Address of the bar of a path to one; else null. */
  readonly earthBar: string | null
}

/**
 * `high`: counts as unlike its peers at the stated false-discovery rate over all groups of the visit. `watch`: beyond what
 * one sound group of its size exceeds in one of twenty, no more. Low readings are never held against a joint.
 */
export type Standing = 'alike' | 'watch' | 'high'

export interface ComparedReading {
  readonly entry: string
  readonly from: string
  readonly to: string
  /** Null where the instrument showed over range; then it is at least `atLeastOhm`, and so is the ratio. */
  readonly readOhm: number | null
  readonly atLeastOhm: number
  /** Median network and two sound clips. */
  readonly expectedOhm: number
  /** Times the group's middle, each held against its expectation; 5 and 95 % by what middle and digits leave open. */
  readonly ratio: number
  readonly lowRatio: number
  readonly highRatio: number
  /** Modified z of the group by itself. */
  readonly z: number
  /** Chance that a sound reading lies as high, by the moderated scale; and the false-discovery rate it counts from. */
  readonly chance: number
  readonly rate: number
  readonly standing: Standing
  readonly criterion: JudgedReading['verdict']
  /** Stands out while within its criterion. */
  readonly isEarlySign: boolean
  /** A joint on its path was repaired after it was taken; told of readings that stand out. */
  readonly isBeforeRepair: boolean
}

export interface WholeGroup {
  /** Held against the other groups of its method, or, where there are fewer than three, against the drawing. */
  readonly against: 'groups' | 'drawing'
  readonly ratio: number
  readonly lowRatio: number
  readonly highRatio: number
  readonly chance: number
  readonly isHigh: boolean
}

/** A level over a group: least and most of its readings' levels with conductors added. */
export interface LevelSpan {
  readonly lowOhm: number
  readonly highOhm: number
}

export interface ComparisonGroup {
  /** Stable while the record grows at its end: visit, class and place of the band. */
  readonly id: string
  readonly visit: string
  readonly pairs: PairClass
  /** In the order of the record. */
  readonly readings: readonly ComparedReading[]
  /** What the middle of the group reads, in ohm, and how many times the drawing's expectation. */
  readonly middleOhm: number
  readonly middleRatio: number
  /** Most of its readings are hardly more than the instrument's digits: ratios are at least as large as told. */
  readonly isAtFloor: boolean
  /** Scatter of sound peers as a standard deviation of the ln, what it is worth, and how much of that is borrowed. */
  readonly lnSd: number
  readonly degrees: number
  readonly borrowedDegrees: number
  /** What the modified z of a sound group of this size exceeds in one of twenty. */
  readonly cutoff: number
  readonly investigate: LevelSpan | null
  readonly reject: LevelSpan | null
  readonly whole: WholeGroup | null
}

export interface NamedShift {
  readonly by: 'interval' | 'row' | 'temperature'
  readonly visit: string
  /** Entry of the nulling (null: not nulled), id of the row; null for temperature. */
  readonly level: string | null
  /** Number of the interval in `leads`; −1 for other shifts. */
  readonly interval: number
  readonly readings: number
  /** Times the peers in the same groups; of temperature, per 10 K. */
  readonly ratio: number
  readonly lowRatio: number
  readonly highRatio: number
  readonly rate: number
}

export interface LeadFinding {
  /** Entry of the nulling; null where the record has none for these readings. */
  readonly nulling: string | null
  readonly visit: string
  readonly kit: string
  readonly lead: string
  readonly startedAt: string
  readonly readings: number
  readonly checks: number
  readonly leadOhm: number
  /** What is common to all readings of the interval, with 5 and 95 %; by shorted leads where they were read. */
  readonly by: 'checks' | 'readings'
  readonly offsetOhm: number
  readonly lowOhm: number
  readonly highOhm: number
  readonly verdict: 'asExpected' | 'seemsNotNulled' | 'offset' | 'nulledTooFar' | 'undecided'
  /** Ohm per hour, with 5 and 95 %; null with fewer than six readings or half an hour. */
  readonly drift: {
    readonly ohmPerHour: number
    readonly low: number
    readonly high: number
    readonly isClear: boolean
  } | null
}

export interface ChangedPair {
  readonly earlier: string
  readonly later: string
  readonly from: string
  readonly to: string
  /** Later over earlier, each less its lead's offset; 5 and 95 % by the scatter of all pairs read in both visits. */
  readonly ratio: number
  readonly lowRatio: number
  readonly highRatio: number
  readonly isAtLeast: boolean
  readonly rate: number
  readonly change: 'higher' | 'lower'
  /** Repairs in between of joints on the path. */
  readonly repairs: readonly string[]
}

export interface VisitComparison {
  readonly earlier: string
  readonly later: string
  readonly pairs: number
  /** What all pairs share: later over earlier. */
  readonly ratio: number
  readonly lowRatio: number
  readonly highRatio: number
  readonly isClear: boolean
  /** Largest change first; at most 200. */
  readonly changed: readonly ChangedPair[]
}

export type NotComparedReason =
  | 'withdrawn'
  | 'noSuchPart'
  | 'samePart'
  | 'unknownKit'
  | 'otherMethod'
  | 'noMetalPath'
  /** The same pair was read again later in its visit: the later one counts. */
  | 'readAgain'
  | 'tooFewPeers'

export interface ComparisonAnswer {
  readonly basis: Basis
  /** Share of false ones among readings that are told as high, at most, on average over sound sites. */
  readonly falseDiscoveryRate: number
  readonly fewestPeers: number
  /** Newest visit first; in a visit, groups with readings that stand out first. */
  readonly groups: readonly ComparisonGroup[]
  readonly shifts: readonly NamedShift[]
  readonly leads: readonly LeadFinding[]
  readonly visits: readonly VisitComparison[]
  readonly notCompared: readonly { readonly entry: string; readonly reason: NotComparedReason }[]
}
