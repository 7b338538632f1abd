import type { MaterialId } from './materials.ts'
import type { Problem } from './problem.ts'
import type { PartKind } from './schema/planning.ts'
import type { EntryOf } from './schema/record.ts'

/** What an answer was computed from; an answer to an older basis is never shown as current. */
export interface Basis {
  readonly drawingRevision: string
  readonly recordLength: number
}

/** Assumptions of the network behind an answer that a reader must know; text/ has a sentence for each. */
export type NetworkNote =
  /** Earth paths share soil that has one resistivity throughout; layers are not counted. */
  | { readonly note: 'uniformSoil' }
  /** Landings are moved to the nearest station of a long member; the largest such distance. */
  | { readonly note: 'memberSnap'; readonly largestM: number }
  /** Frames, cross members and posts count as one potential each. */
  | { readonly note: 'partsAsPoints' }
  | { readonly note: 'incidentalNotCounted'; readonly joints: number }
  /** As-built differences are counted in. */
  | { readonly note: 'asBuiltCounted'; readonly differences: number }

export interface CheckAnswer {
  readonly valid: boolean
  readonly problems: readonly Problem[]
  readonly name: string
  readonly rows: number
  readonly tables: number
  readonly parts: number
  readonly joints: number
  readonly metalSections: number
  readonly electricalIslands: number
  readonly visits: number
  readonly readings: number
  readonly notes: readonly NetworkNote[]
}

/** How two parts are joined. `soilOnly`: no metal path, whatever a meter reads. */
export type PathKind = 'metal' | 'soilOnly' | 'none'

export interface ResistanceAnswer {
  readonly basis: Basis
  readonly from: string
  readonly to: string
  readonly path: PathKind
  /** Median network, in ohm; Infinity where nothing joins the two. */
  readonly resistanceOhm: number
  /** Mean and standard deviation over the scatter of sound joints. */
  readonly expectedOhm: number
  readonly spreadOhm: number
  readonly notes: readonly NetworkNote[]
}

export interface JointCurrent {
  readonly joint: string
  readonly kind: string
  readonly from: string
  readonly to: string
  /** Share of one ampere through the pair, positive from `from` to `to`. */
  readonly perAmpere: number
  readonly ohm: number
  /** Volts across the joint per ampere through the pair. */
  readonly voltPerAmpere: number
}

export interface CurrentsAnswer extends ResistanceAnswer {
  /** Largest first. */
  readonly currents: readonly JointCurrent[]
  readonly jointsWithCurrent: number
  /** Kirchhoff: largest imbalance at a part, relative to the current through it. */
  readonly residual: number
}

/** One joint of a group of suspects. */
export interface SuspectJoint {
  readonly joint: string
  readonly kind: string
  readonly probability: number
}

/** What one reading says about a group: positive bits speak for it, negative against it. */
export interface Evidence {
  readonly entry: string
  readonly bits: number
  /** Share of the measuring current that crosses the suspect. */
  readonly share: number
  readonly readOhm: number | null
  readonly expectedSoundOhm: number
  readonly expectedIfBadOhm: number
}

export interface SuspectGroup {
  /** Joints that the readings do not tell apart, most probable first; at most 50 are listed. */
  readonly joints: readonly SuspectJoint[]
  readonly jointCount: number
  /** Chance that some joint of the group is bad. */
  readonly probability: number
  /** Given that the group holds the bad joint: open rather than raised. */
  readonly openProbability: number
  /** Given raised: added ohms, 5 %, 50 % and 95 % of the probability below. */
  readonly addedOhm: { readonly low: number; readonly middle: number; readonly high: number } | null
  readonly evidence: readonly Evidence[]
  /** What the break would cut off from the rest in metal, when the first joint is a metal bridge. */
  readonly cutsOffParts: number
}

export type ReadingVerdict =
  /** As the network predicts. */
  | 'inLine'
  /** Higher than predicted; the suspects explain it. */
  | 'highBySuspect'
  /** Higher than predicted; a poor contact explains it best. */
  | 'poorContact'
  /** Higher than predicted and nothing explains it well. */
  | 'highUnexplained'
  /** Lower than the network can read: both clips on one part, a neighbouring table, leads nulled too far. */
  | 'tooLow'
  | 'overRange'
  /** No metal joins the two parts as drawn. */
  | 'noMetalPath'
  /** Not counted; `setAside` says why. */
  | 'setAside'

export interface ReadingAnswer {
  readonly entry: string
  readonly method: EntryOf<'reading'>['method']
  /** The joint in the jaws of a loop clamp; null for every other reading. */
  readonly around: string | null
  readonly from: string
  readonly to: string
  readonly kit: string
  readonly readOhm: number | null
  readonly overRange: boolean
  readonly path: PathKind
  /** Prediction for a sound array, contact and lead offset included: mean and standard deviation. */
  readonly expectedOhm: number
  readonly spreadOhm: number
  /** What of the prediction is network, contact and lead. */
  readonly networkOhm: number
  readonly contactOhm: number
  readonly leadOffsetOhm: number
  /** Two wires through a lead that was not nulled: its own ohms are in what was read, and levels know nothing of them. */
  readonly isLeadIn: boolean
  /** Prediction when the suspects are bad: the likeliest state of the site with any. */
  readonly expectedWithSuspectOhm: number
  readonly poorContactProbability: number
  readonly tooLowProbability: number
  readonly verdict: ReadingVerdict
  readonly setAside:
    | 'withdrawn'
    | 'beforeRepair'
    | 'electrodeTest'
    | 'noSuchPart'
    | 'samePart'
    | 'kitNotFit'
    | 'unknownKit'
    | 'loopClamp'
    | null
  readonly repeats: string | null
}

/** One nulling and the readings after it. */
export interface NullingAnswer {
  /** Id of the nulling entry; null where readings were taken without one. */
  readonly entry: string | null
  readonly kit: string
  readonly lead: string | null
  readonly readings: number
  readonly leadOhm: number
  readonly offsetPriorSdOhm: number
  /** What the readings say of the offset that was left. */
  readonly offsetOhm: number
  readonly offsetSdOhm: number
}

export interface LocateAnswer {
  readonly basis: Basis
  readonly headline: 'noReadings' | 'nothingBroken' | 'suspects' | 'undecided' | 'doesNotFit'
  /** Among the faults that these readings can show: the probability that there is none. */
  readonly nothingBrokenProbability: number
  /** Ranked. Several joints may be bad at once, so these chances do not add up to anything. */
  readonly groups: readonly SuspectGroup[]
  /** Chance that some joint of no listed group is bad, what was not searched included. */
  readonly otherProbability: number
  /** [k]: chance that k joints are bad, of those that the readings can show. */
  readonly badCount: readonly number[]
  /** Estimated share of what was not weighed. */
  readonly unexplored: number
  readonly readings: readonly ReadingAnswer[]
  readonly nullings: readonly NullingAnswer[]
  /**
   * How far a whole kind of joint lies from what the catalogue says, and soil (`earthPath`) from what was stated, as far
   * as the readings say anything of it: factor, with the points below which 5 and 95 % of the probability lies.
   */
  readonly levels: readonly {
    readonly kind: string
    readonly factor: number
    readonly low: number
    readonly high: number
  }[]
  /** How well the best explanation predicts the readings: share of outcomes at least as unlikely (0 … 1). */
  readonly fit: number
  /** Power that the readings' say was reduced to because they fit badly; 1 where they fit. */
  readonly trust: number
  readonly coverage: {
    /** Joints that can go bad. */
    readonly joints: number
    /** Opening would show in the readings that were taken. */
    readonly seen: number
    /** A reading with this kit could show it, but none that was taken does. */
    readonly notReached: number
    /** No two-point reading with this kit shows it open: parallel paths carry the current. */
    readonly cannotBeSeen: number
    /** Bad joints to expect among those not seen, by their defect rates alone. */
    readonly expectedBadUnseen: number
    /** Some of them, one per kind, with what they would read open across their own ends. */
    readonly examples: readonly {
      readonly joint: string
      readonly kind: string
      readonly soundOhm: number
      readonly openOhm: number
      readonly joints: number
    }[]
  }
  readonly notes: readonly NetworkNote[]
}

export interface PartRow {
  readonly address: string
  readonly label: string
  readonly kind: PartKind | 'remoteEarth'
  readonly xM: number
  readonly yM: number
  readonly metalSection: number
  readonly electricalIsland: number
}

export interface JointRow {
  readonly address: string
  readonly kind: string
  readonly from: string
  readonly to: string
  readonly medianOhm: number
  readonly lnSpread: number
  readonly defectRate: number
  readonly leverage: number
  /** What one reads across its own ends, sound and open. */
  readonly soundOhm: number
  readonly openOhm: number
  readonly metalBridge: boolean
}

/** A criterion held against one reading; `none` where no criterion applies to what was read. */
export interface JudgedReading {
  readonly entry: string
  /** Id of the criterion that applies, or null. */
  readonly criterion: string | null
  /** Levels with the computed conductors added; null where the criterion has none. */
  readonly investigateOhm: number | null
  readonly rejectOhm: number | null
  /** What was added to the criterion's own levels: the computed resistance of the path, or 0. */
  readonly conductorOhm: number
  /** The criterion is of an electrode or a type test: another quantity, held against pairs because someone chose so. */
  readonly otherQuantity: boolean
  /** The criterion asks for more test current than was used, in amperes; null where enough was used or none is asked. */
  readonly lowCurrent: { readonly askedA: number; readonly usedA: number } | null
  readonly verdict: 'within' | 'investigate' | 'reject' | 'none'
}

export interface JudgeAnswer {
  readonly basis: Basis
  /** Every reading of the record in canonical order; those that are withdrawn have the verdict `none`. */
  readonly readings: readonly JudgedReading[]
}

/** The current in every joint per ampere through a pair, for drawing. */
export interface CurrentMapAnswer {
  readonly basis: Basis
  readonly from: string
  readonly to: string
  readonly path: PathKind
  readonly resistanceOhm: number
  /** By joint index, positive along the joint's own from → to; 0 where the joint is absent or carries nothing. */
  readonly perAmpere: Float32Array
}

/** One share of a joint's median ohms, with what it was computed from; the shares add up to the median. */
export type OhmShare =
  /** Contact, as the catalogue of joint kinds has it. */
  | { readonly form: 'catalogue'; readonly ohm: number; readonly kind: string; readonly source: string }
  /** Wire or body of a member: ρ(T)·ℓ/A. */
  | {
      readonly form: 'metal'
      readonly ohm: number
      readonly material: MaterialId
      readonly areaMm2: number
      readonly lengthM: number
      readonly temperatureC: number
    }
  /** One electrode or post in uniform soil, by itself. */
  | {
      readonly form: 'soil'
      readonly ohm: number
      readonly of: 'rod' | 'plate' | 'strip' | 'post'
      readonly soilOhmM: number
      readonly soilSource: string
    }
  /** Ohms that someone entered for this one joint; `electrode`: its measured resistance to remote earth. */
  | {
      readonly form: 'given'
      readonly ohm: number
      readonly by: 'extraJoint' | 'differingJoint' | 'asBuilt' | 'electrode'
    }

/** What a joint does in the network. */
export interface CountedJoint {
  readonly medianOhm: number
  /** The share of the median that is metal and does not scatter like a contact. */
  readonly fixedOhm: number
  readonly madeOf: readonly OhmShare[]
  readonly lnSpread: number
  readonly defectRate: number
  /** Share of a current across its own ends that the joint carries; 1: no other path. */
  readonly leverage: number
  /** What one reads across its own ends, sound and open; open Infinity where no other path is. */
  readonly soundOhm: number
  readonly openOhm: number
  /** What a loop clamp round it reads: its own ohms and the path beside it; Infinity without a loop. */
  readonly loopClampOhm: number
  readonly isEarthPath: boolean
  /** Whether its opening leaves no metal path, and what it would part from the rest. */
  readonly isMetalBridge: boolean
  readonly cutsOffParts: number
  /** Some part of what would be cut off: the joint's own end on that side. */
  readonly cutsOffFrom: string | null
}

export interface JointAnswer {
  readonly basis: Basis
  readonly joint: string
  readonly from: string
  readonly to: string
  readonly kind: string
  readonly kindName: string
  readonly purpose: 'relied' | 'incidental'
  /** Where the kind's figures come from. */
  readonly source: string
  /** Whether the joint differs from its pattern by design, or was found otherwise than drawn. */
  readonly differs: 'no' | 'byDesign' | 'asBuilt'
  /** Null where the joint has no place in the network; `leftOut` says why. */
  readonly counted: CountedJoint | null
  readonly leftOut: 'absent' | 'incidental' | null
}

export interface JointAtPart {
  readonly joint: string
  readonly kind: string
  /** The part at its other end. */
  readonly other: string
  readonly medianOhm: number
  readonly isMetalBridge: boolean
}

export interface PartAnswer {
  readonly basis: Basis
  readonly part: string
  readonly kind: PartKind | 'remoteEarth'
  /** Null for remote earth. */
  readonly atM: { readonly x: number; readonly y: number } | null
  /** The parts that metal joins to this one, itself among them; null for remote earth. */
  readonly metalSection: { readonly parts: number; readonly earthBars: number } | null
  /** At most 200, in joint order. */
  readonly joints: readonly JointAtPart[]
  readonly jointCount: number
  /** Expected reading to the earth bar that is nearest in ohms through metal; null where metal reaches none. */
  readonly toEarthBar: {
    readonly earthBar: string
    readonly resistanceOhm: number
    readonly expectedOhm: number
    readonly spreadOhm: number
  } | null
}

/** What a sound array would read between two parts, before anyone has measured. */
export interface ExpectAnswer {
  readonly basis: Basis
  readonly from: string
  readonly to: string
  readonly path: PathKind
  /** Median network in ohm; Infinity where nothing joins the two. */
  readonly resistanceOhm: number
  /** What the network, sound clips and what is left of the lead add on average. */
  readonly networkOhm: number
  readonly contactOhm: number
  readonly leadOffsetOhm: number
  /** Their sum, and the standard deviation of a reading; Infinity and 0 where nothing joins the two. */
  readonly expectedOhm: number
  readonly spreadOhm: number
  /** The instrument's range ends below what is expected. */
  readonly beyondRange: boolean
  /** The criterion that such a reading would be held against. */
  readonly criterion: Omit<JudgedReading, 'entry' | 'verdict'>
}

/** One of the things that may come out of an action, and what would be thought then. */
export interface Outcome {
  /** `sound`, `bad`: what a look finds. `above` counts over range in where it is not listed by itself. */
  readonly when: 'below' | 'between' | 'above' | 'overRange' | 'sound' | 'bad'
  /** The stretch of ohms; null where it has no such end, and for looks and over range. */
  readonly fromOhm: number | null
  readonly toOhm: number | null
  /** The outcomes of an action add up to 1. */
  readonly probability: number
  /** What is likeliest then, among nothing bad and the groups; `group` is its place in `LocateAnswer.groups`. */
  readonly leader: 'nothing' | 'group'
  readonly group: number | null
  readonly leaderProbability: number
  /** The joints of that group that have nine tenths of its probability then, the likeliest first; at most 6 listed. */
  readonly joints: readonly string[]
  readonly jointCount: number
}

/** Something to do next. */
export interface NextAction {
  readonly kind: 'pair' | 'repeat' | 'shortLeads' | 'look' | 'retorque'
  readonly minutes: number
  /** What it says on average about which joint is bad, if any. */
  readonly bits: number
  /** Ends of a reading; of a pair, the first is where the instrument stands. */
  readonly from?: string
  readonly to?: string
  /** The reading that is repeated with fresh contacts. */
  readonly entry?: string
  /** The joint to be looked at, or the first of `joints`. */
  readonly joint?: string
  readonly joints?: readonly string[]
  /** The group that a look is about. */
  readonly group?: number
  readonly kit?: string
  readonly lead?: string | null
  /** What would be read: 5, 50 and 95 % over all hypotheses; Infinity where that is over range. */
  readonly expectedOhm?: { readonly low: number; readonly middle: number; readonly high: number }
  readonly outcomes: readonly Outcome[]
}

/** What to do next, from the same readings as `LocateAnswer`. */
export interface NextAnswer {
  readonly basis: Basis
  /**
   * `foundIt`: the first group is as good as certain, whichever reading is left out, and no reading says more about
   * which of its joints it is than a look does. `nothingWorthIt`: no action says enough for the time it takes; where
   * there is a suspect, the actions are to see to it.
   */
  readonly stop: 'goOn' | 'foundIt' | 'nothingWorthIt' | 'noReadings'
  /** By expected bits per minute, best first; what to do about what was found comes before. At most 8. */
  readonly actions: readonly NextAction[]
  /** How undecided it is which joint is bad, if any. */
  readonly entropyBits: number
  /** Pairs that were looked at, and those left out because the lead does not span them or no metal joins them. */
  readonly considered: number
  readonly leftOutPairs: number
}
