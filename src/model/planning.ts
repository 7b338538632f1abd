import type { Basis, NetworkNote } from './answers.ts'
import type { WalkPath } from './walkPath.ts'
import type { Kit, Lead } from './schema/record.ts'

/**
 * What a plan is held against: a joint that has three, ten or a hundred times the ohms of a sound one more than
 * before, or that is open.
 */
export const planSeverities = ['tripled', 'tenfold', 'hundredfold', 'open'] as const
export type PlanSeverity = (typeof planSeverities)[number]

/** Ohms that a joint gains, as a multiple of its median. */
export const gainOfSeverity: Readonly<Record<PlanSeverity, number>> = {
  tripled: 2,
  tenfold: 9,
  hundredfold: 99,
  open: Infinity,
}

/**
 * How a joint's going bad would show in the readings of a plan, the first that holds.
 *
 * - `criterion`: a reading of the plan would stand above its criterion
 * - `comparison`: none would, but one would stand out from what it is expected to read by more than instrument,
 *   leads, contacts and the scatter of sound joints hide
 * - `addPair`: no reading of the plan, but another pair within reach and access would
 * - `noAccess`: only a pair with an end that no clip reaches, or further apart than the lead
 * - `finerKit`: no pair with this kit, but one with a four-wire bond tester
 * - `parallelPaths`: no two-point reading with either: the paths beside it carry its current
 * - `cannotFail`: not counted, as the catalogue gives it no chance of going bad
 */
export const sights = [
  'criterion',
  'comparison',
  'addPair',
  'noAccess',
  'finerKit',
  'parallelPaths',
  'cannotFail',
] as const
export type Sight = (typeof sights)[number]

/** What may be done so that a joint that is hidden shows. */
export type Cure =
  /** A pair that is within reach and would show it. */
  | { readonly cure: 'addPair'; readonly from: string; readonly to: string }
  /** A bare stud or test point on a part that no clip reaches now. */
  | { readonly cure: 'testStud'; readonly part: string }
  /** A lead of at least so many metres. */
  | { readonly cure: 'longerLead'; readonly lengthM: number }
  | { readonly cure: 'fourWireKit' }
  /** A loop clamp round one of the paths beside it reads what the two close together. */
  | { readonly cure: 'loopClamp'; readonly joint: string }
  /** Nothing a reading shows: a look and a torque check; a second jumper makes its loss harmless. */
  | { readonly cure: 'lookAndTorque' }
  | { readonly cure: 'secondJumper'; readonly from: string; readonly to: string }

/** Joints of one kind that are hidden for one reason, with what would cure it for one of them. */
export interface HiddenJoints {
  readonly why: Exclude<Sight, 'criterion' | 'comparison' | 'cannotFail'>
  readonly kind: string
  readonly joints: number
  /** Of one of them: its address, what its own ends read with it sound and with it bad, in ohm. */
  readonly example: string
  readonly soundOhm: number
  readonly badOhm: number
  readonly cures: readonly Cure[]
}

/** Joints that the readings of the plan show but do not tell apart, whatever they read. */
export interface LookAlike {
  readonly count: number
  /** The first of them, at most eight. */
  readonly joints: readonly string[]
}

/** What the planner takes a reading to be taken with. */
export interface PlanKit {
  readonly kit: Kit
  /** Null for a four-wire tester with leads of its own. */
  readonly lead: Lead | null
  /** Straight distance between two parts that the leads span, in metres. */
  readonly reachM: number
}

/** Which of what is drawn counts, and with what is measured; what is left out is taken from the record. */
export interface PlanTerms {
  readonly countIncidental: boolean
  readonly asBuilt: boolean
  readonly kit?: Kit | null
  readonly lead?: Lead | null
  readonly severity: PlanSeverity
}

export interface PlanPairInput {
  readonly from: string
  readonly to: string
}

/** What a set of pairs shows. `pairs`: those of a plan, or others that are tried out. */
export interface CoverageInput extends PlanTerms {
  readonly pairs: readonly PlanPairInput[]
}

/** One pair of the set, in the order of the question. */
export interface PairSight {
  readonly from: string
  readonly to: string
  /** What it reads where all is sound, in ohm; Infinity where nothing joins the two. */
  readonly expectedOhm: number
  /** Standard deviation of a single reading that is not spoiled, scatter of sound joints included. */
  readonly sdOhm: number
  /** The lower level of its criterion with the conductors added; null where none applies. */
  readonly levelOhm: number | null
  /** Joints that it shows, and those that no other pair of the set shows. */
  readonly shows: number
  readonly alone: number
  /** Where it cannot be taken, so that it shows nothing: the straight distance in metres, and ends that no clip reaches. */
  readonly tooFarM: number | null
  readonly noAccess: readonly string[]
}

export interface CoverageAnswer {
  readonly basis: Basis
  readonly notes: readonly NetworkNote[]
  readonly with: PlanKit
  readonly severity: PlanSeverity
  /** Joints that can go bad, and how many of them are expected to be. */
  readonly joints: number
  readonly expectedBad: number
  /** How many of them fall to each sight; the numbers add up to `joints`. */
  readonly counts: Readonly<Record<Exclude<Sight, 'cannotFail'>, number>>
  readonly expectedBadUnseen: number
  /** Shown by at least two pairs, so that a spoiled reading does not hide it. */
  readonly twice: number
  /** Joints that are shown and told apart from every other one. */
  readonly toldApart: number
  /** By joint number of the site: the number of its sight in `sights`, and by how many pairs it is shown (255 and more: 255). */
  readonly sight: Uint8Array
  readonly shownBy: Uint8Array
  /** Largest first, at most 50, and how many there are. */
  readonly lookAlikes: readonly LookAlike[]
  readonly lookAlikeGroups: number
  readonly hidden: readonly HiddenJoints[]
  readonly pairs: readonly PairSight[]
}

/** How one joint would show in a set of pairs. */
export interface JointSightInput extends CoverageInput {
  readonly joint: string
}

export interface JointSightAnswer {
  readonly basis: Basis
  readonly joint: string
  readonly severity: PlanSeverity
  /** Its kind can go bad, and it is counted in this network. */
  readonly isCounted: boolean
  /** The pairs that show it: places in the question, what they read with it sound and with it bad, in ohm. */
  readonly seenBy: readonly {
    readonly pair: number
    readonly byCriterion: boolean
    readonly soundOhm: number
    readonly badOhm: number
  }[]
  /** Where no pair shows it: why, and what would cure it. */
  readonly hidden: HiddenJoints | null
}

/** Pairs as one walks to them. */
export interface WalkInput {
  readonly pairs: readonly PlanPairInput[]
  readonly persons: 1 | 2
  /** In the order of the question, the first clip on `from`; or in an order and from ends that make a short walk. */
  readonly order: 'asGiven' | 'short'
}

/** A pair of the question in walking order. */
export interface WalkedPair extends PlanPairInput {
  /** Its place in the question. */
  readonly pair: number
  readonly setUp: number
}

export interface WalkAnswer {
  readonly basis: Basis
  /** Without those that nobody can walk to: an end is remote earth, or both are the same part. */
  readonly order: readonly WalkedPair[]
  readonly setUps: readonly PlannedSetUp[]
  readonly wayM: number
  readonly minutes: number
  /** No walk through these set-ups is shorter, in metres; null where the order was given. */
  readonly wayBoundM: number | null
  readonly path: WalkPath
}

/** Ways of laying out pairs that crews use. */
export const planPatterns = ['star', 'chain', 'skipOne', 'ladder'] as const
/**
 * - `star`: one fixed point per set-up, every other point against it
 * - `chain`: each point against the next
 * - `skipOne`: each point against the next but one, too
 * - `ladder`: along both long members of a table or row, with rungs between them
 */
export type PlanPattern = (typeof planPatterns)[number]

export interface PlanInput extends PlanTerms {
  /** Pairs that are in whatever else is proposed, a contract's, in their order. */
  readonly required: readonly PlanPairInput[]
  /** `proposed`: chosen for what they show; a pattern: laid out by it. */
  readonly how: 'proposed' | PlanPattern
  /** What detecting is given up for telling joints apart: 0 none, 1 as much as can be. Of a proposed plan only. */
  readonly tellApart: number
  /** Every joint that can be is shown by so many pairs. Of a proposed plan only. */
  readonly timesShown: 1 | 2
  /** The best of what fits into so many minutes; null: all. */
  readonly mostMinutes: number | null
  readonly persons: 1 | 2
}

/** One pair in the order of the walk. */
export interface PlannedPair extends PlanPairInput {
  readonly required: boolean
  /** Number of its set-up, from 0; the first clip of all pairs of a set-up is on `from`. */
  readonly setUp: number
  /** Metres on foot from the pair before, for the last of a set-up with the way back to its first clip; and minutes with reading and moving. */
  readonly wayM: number
  readonly minutes: number
}

/** A place at which the instrument stays, its first clip on one part. */
export interface PlannedSetUp {
  readonly at: string
  readonly pairs: number
  readonly wayM: number
  readonly minutes: number
}

/** Least number of pairs that any plan needs that shows the same joints, and what proves it. */
export interface PairBound {
  readonly pairs: number
  /**
   * `ends`: so many parts must be an end of some pair, and a pair has two; `linearProgramme`: the relaxed choice over all
   * candidate pairs, per independent piece; `search`: there, for some pieces, every choice was weighed; `path`: so many parts must be
   * an end to tell joints apart: every part of a run, and two leaves in three.
   */
  readonly by: 'ends' | 'linearProgramme' | 'search' | 'path'
}

export interface PlanAnswer {
  readonly basis: Basis
  readonly pairs: readonly PlannedPair[]
  readonly setUps: readonly PlannedSetUp[]
  readonly wayM: number
  readonly minutes: number
  /** No round through the chosen set-ups is shorter than this, in metres (Held and Karp's ascent). */
  readonly wayBoundM: number
  readonly bound: PairBound | null
  /** Candidate pairs that it was chosen from. */
  readonly candidates: number
  /** What it shows, of what any reachable pair could show. */
  readonly coverage: CoverageAnswer
  /** Required pairs that cannot be taken with this kit: too far apart, or no access. They stay in the plan. */
  readonly outOfReach: readonly PlanPairInput[]
}

/** What a sample is drawn from: the pairs of a plan, or the two ends of every joint of a kind. */
export type SampledLot =
  { readonly of: 'plan'; readonly plan: string } | { readonly of: 'kind'; readonly kind: string }

/** Lot sampling: how many to test so that few failures speak for the whole, and which. */
export interface SampleInput {
  readonly countIncidental: boolean
  readonly asBuilt: boolean
  readonly lot: SampledLot
  /** With `failuresAllowed` failures or fewer one is so sure that less than this share of the lot is bad. */
  readonly mostBadShare: number
  readonly confidence: number
  readonly failuresAllowed: number
  /** Drawn by the table, so many of each; null: one by one over the whole lot. */
  readonly perTable: number | null
  /** How alike two of one table are in being bad: 0 not at all, 1 all or none. Counts where drawn by the table. */
  readonly correlation: number
  /** Whole number from 0 to 4294967295 that the draw begins from: the same lot and seed give the same sample. */
  readonly seed: number
  /** Pairs of the lot that failed, once all that was drawn is tested; those found by following up, too. */
  readonly failed: readonly PlanPairInput[]
}

export interface SampledPair extends PlanPairInput {
  /** The joint whose ends they are; null for a pair of a plan. */
  readonly joint: string | null
}

export interface SampleAnswer {
  readonly basis: Basis
  readonly lot: {
    readonly of: SampledLot
    readonly items: number
    readonly tables: number
    /** Left out: an end is at a part that no clip reaches, or in the ground. */
    readonly noAccess: number
    /** So many bad ones make the lot one that must not be accepted. */
    readonly bad: number
  }
  readonly asked: Pick<
    SampleInput,
    'mostBadShare' | 'confidence' | 'failuresAllowed' | 'perTable' | 'correlation' | 'seed'
  >
  /** In the order of the lot. */
  readonly drawn: readonly SampledPair[]
  readonly tables: number
  /** What it gives: 1 less the chance of accepting a lot that is just that bad. */
  readonly confidence: number
  /** The same if the bad ones fill whole tables; null where not drawn by the table. */
  readonly confidenceByTable: number | null
  /** By how much it is larger than a sample drawn one by one need be, as reckoned from the correlation. */
  readonly designEffect: number
  /** All of the lot is drawn, as nothing less gives what is asked. */
  readonly isWhole: boolean
  /** Chance that the lot is accepted, by the share of it that is bad. */
  readonly curve: readonly { readonly share: number; readonly accepted: number }[]
  /** The largest share that is still accepted in 95 of 100 such lots, and the smallest that is in no more than 10. */
  readonly acceptedShare: number
  readonly refusedShare: number | null
  readonly result: {
    readonly failed: number
    readonly isAccepted: boolean
    /** With the confidence asked for, less than this share of the lot is bad; 1 where nothing can be said. */
    readonly lessThanShare: number
    /**
     * The share that goes bad in work of this sort, two-sided with that confidence (Clopper and Pearson); null where
     * drawn by the table.
     */
    readonly estimate: { readonly least: number; readonly most: number } | null
    /** Due now, each step without what the one before asks for. */
    readonly tables: readonly SampledPair[]
    readonly rows: readonly SampledPair[]
    readonly rest: readonly SampledPair[]
  }
}
