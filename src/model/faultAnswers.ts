import type { Basis, NetworkNote } from './answers.ts'
import type { FaultRule, RuleRefusal } from './faultRules.ts'
import type { FaultSource } from './schema/faults.ts'
import type { PointM } from './schema/primitives.ts'

/**
 * What faults onto a part, and what that side of the circuit is referenced to. A teaching model: one operating point
 * of one source, never a protection study.
 */
export type FaultDrive =
  | {
      readonly form: 'pv'
      readonly source: Extract<FaultSource, { form: 'pvString' }>
      /** Module of the string whose conductor touches the part, counted from the negative pole: 0 … modules in series. */
      readonly moduleFromNegative: number
      /**
       * Part that the circuit is referenced to: where its pole is earthed, functionally or through the inverter and the grid;
       * of a floating one, where its insulation leads to. Null: remote earth.
       */
      readonly earthedAt: string | null
      /** Ohms in that connection, its fuse included; a floating source has no such connection. */
      readonly earthingOhm: number
      /** A second fault: another part, at another module of the same string or of another; null for none. */
      readonly second: {
        readonly part: string
        readonly moduleFromNegative: number
        readonly sameString: boolean
      } | null
      /** Each pole's insulation to earth, and the capacitance of the whole array to earth. */
      readonly insulationOhm: number
      readonly capacitanceF: number
      /** Share of standard light: the current of the modules in proportion. */
      readonly light: number
    }
  | {
      readonly form: 'ac'
      readonly source: Extract<FaultSource, { form: 'ac' }>
      /** Ohms of the fault itself and of the live conductor up to it. */
      readonly conductorOhm: number
    }

/** One who touches: hand to hand between two parts, or hand to feet on the ground beside a part. */
export interface PersonInput {
  readonly hand: string
  /** The other hand's part; null: the feet, on the ground one arm's reach away. */
  readonly other: string | null
  /** Which ground the feet stand on: ohm metre of its surface and thickness in metres; null: the soil of the site. */
  readonly surface: { readonly ohmM: number; readonly thicknessM: number } | null
  readonly shoeOhm: number
  readonly isWet: boolean
  /** 1 m or 2.5 m. */
  readonly armReachM: number
}

/** A joint that is not as drawn in this question; `ohm` null: open. */
export interface AlteredJoint {
  readonly joint: string
  readonly ohm: number | null
}

export interface FaultInput {
  readonly countIncidental: boolean
  readonly asBuilt: boolean
  readonly at: string
  readonly drive: FaultDrive
  readonly altered: readonly AlteredJoint[]
  readonly person: PersonInput | null
}

/**
 * What limits the current: that the source gives no more whatever the ohms; the ohms of its way; insulation, the only way
 * back; that there is no way back at all; that the fault point has no volts against what it is referenced to.
 */
export type LimitedBy = 'sourceCurrent' | 'resistance' | 'insulation' | 'noPath' | 'noVoltage'

/** Where the circuit meets the bond network: amperes that enter it there, less than 0 where they leave it. */
export interface FaultPort {
  readonly role: 'fault' | 'second' | 'earthing' | 'insulation' | 'return'
  readonly part: string
  readonly currentA: number
}

/** Who or what notices, and when it acts. */
export interface DeviceActs {
  readonly device: string
  /** Amperes that it sees, rms for alternating current. */
  readonly seesA: number
  /**
   * `acts`: between least and most seconds; `mayAct`: within its tolerance band; `never`: below what makes it act;
   * `notCovered`: the rule was not made for this, and `refusal` says why.
   */
  readonly verdict: 'acts' | 'mayAct' | 'never' | 'notCovered'
  /** Not before this many seconds, 0 where nothing is known; null where it never acts or nobody can say. */
  readonly leastS: number | null
  /** Not after this many seconds; null where it need not act. */
  readonly mostS: number | null
  /** The rule with its source and edition; text/ has the words. */
  readonly rule: FaultRule
  readonly refusal: RuleRefusal | null
}

/** From hand to hand, or from a hand (the left, the worse one) or both hands to both feet. */
export type BodyPath = 'handToHand' | 'handToFeet' | 'bothHandsToFeet'

/** From what is usually not felt, over what muscles do, to what most likely stops the heart. */
export type ShockZone = 'notFelt' | 'felt' | 'muscles' | 'heart' | 'heartLikely'

/** One in twenty has no more ohms than percentile 5 at the same volts: the most current. */
export type BodyPercentile = 5 | 50 | 95

/** A percentile of the body impedance at the volts across that body, of a published table. */
export interface BodyCurrent {
  readonly percentile: BodyPercentile
  /** Volts across this body: fewer than prospective where feet and shoes take their share. */
  readonly touchV: number
  readonly bodyOhm: number
  readonly currentA: number
  readonly zone: ShockZone
}

/** Volts that a rule permits, of which volts it speaks, and why it has none. */
export interface PermittedVolts {
  readonly rule: FaultRule
  readonly volt: number | null
  /** Volts without the person, or across the body: which of the two to hold against the rule. */
  readonly of: 'prospective' | 'touch'
  readonly refusal: RuleRefusal | null
}

export interface PersonAnswer {
  /** Volts between the two places without the person, and what the path beside the body has in series. */
  readonly prospectiveV: number
  readonly seriesOhm: number
  /** Volts across the body of percentile 50. */
  readonly touchV: number
  readonly path: BodyPath
  /** Table of body impedance and its edition. */
  readonly bodyRule: FaultRule
  readonly currents: readonly BodyCurrent[]
  /** Seconds that the person is taken to be in the circuit: until the device acts, or without end. */
  readonly durationS: number | null
  /** What the named rules permit for that long. */
  readonly permitted: readonly PermittedVolts[]
  /** Ohms of the network between the two places, part of `seriesOhm`: negligible in metal, not where soil is in the way. */
  readonly ohmBetween: number
}

/** What insulation monitoring reads with this fault in place, in ohm, and whether it would alarm at start or in operation. */
export interface InsulationSeen {
  readonly readsOhm: number
  readonly alarmBelowOhm: number
  readonly alarms: boolean
  /** No alarm, because the part that faulted has no metal path to the monitored earth. */
  readonly isHidden: boolean
}

/** Where a fault's current goes. Typed arrays by joint and by part number, as `CurrentMapAnswer` has them. */
export interface FaultAnswer {
  readonly basis: Basis
  readonly notes: readonly NetworkNote[]
  /** Amperes at the fault, whichever way they flow. */
  readonly faultA: number
  readonly limitedBy: LimitedBy
  /** Volts of the fault point against what it is referenced to, before anything touches it. */
  readonly openV: number
  /** What is left of them with the fault in place. */
  readonly sourceV: number
  /** Ohms of the bond network between the fault and where most of the current leaves; Infinity where nothing joins them. */
  readonly networkOhm: number
  /** Volts of the part that faulted. */
  readonly faultV: number
  /** What volts are to: remote earth, or the part where the circuit is referenced, where no soil joins the two. */
  readonly voltsTo: 'remoteEarth' | 'reference'
  /** By part number, remote earth last; 0 where nothing drives. */
  readonly partV: Float32Array
  /** By joint number, positive from its first to its second part; 0 for one that is not counted. */
  readonly currentA: Float32Array
  readonly ports: readonly FaultPort[]
  /** Amperes that parallel strings push backwards through the faulted one; 0 for an AC source. */
  readonly backFeedA: number
  /** Kirchhoff: largest imbalance at a part, relative to the current through it. */
  readonly residual: number
  /** Amperes that pass from metal into soil. */
  readonly throughEarthA: number
  readonly devices: readonly DeviceActs[]
  readonly insulation: InsulationSeen | null
  /** ½CV² in joule, and the leakage current of a running inverter in ampere; null for an AC source. */
  readonly capacitance: { readonly joule: number; readonly leakageA: number } | null
  readonly person: PersonAnswer | null
}

export interface FaultSweepInput extends Omit<FaultInput, 'person'> {
  /** Pairs of parts whose volts are watched besides each joint's own ends. */
  readonly watched: readonly { readonly from: string; readonly to: string }[]
}

/** For every joint, what its loss would cause: worst case across its own ends and on the watched pairs. */
export interface FaultSweepAnswer {
  readonly basis: Basis
  /** Fault current with every joint in place. */
  readonly soundA: number
  /** By joint number: volts across the joint's own ends once it is open, and fault current left, in ampere; 0 if not counted. */
  readonly acrossV: Float32Array
  readonly leftA: Float32Array
  /**
   * Per watched pair: volts with everything in place, the most that one loss makes of it, and which joint's; null where no
   * loss makes it more. A pair that nothing joins has no other volts than those with everything in place.
   */
  readonly watched: readonly {
    readonly from: string
    readonly to: string
    readonly soundV: number
    readonly mostV: number
    readonly joint: string | null
  }[]
  /** Joints that can come apart with the largest volts across themselves, at most 50. */
  readonly worst: readonly { readonly joint: string; readonly acrossV: number; readonly leftA: number }[]
  /** Joints whose loss alone stops the current: metal and soil have no other way. */
  readonly stops: number
}

/** Volts of the ground surface around the electrodes, for a grid of points, to remote earth. */
export interface GroundVoltsInput extends Omit<FaultInput, 'person'> {
  readonly fromM: { readonly x: number; readonly y: number }
  readonly stepM: number
  readonly across: number
  readonly high: number
  /**
   * Metres over which a leak is spread, so that a grid too coarse for single posts is even between them; left out: none.
   */
  readonly blurM?: number
}

export interface GroundVoltsAnswer {
  readonly basis: Basis
  /** Row by row from `fromM`, `across` per row, each row a step further up. */
  readonly volt: Float32Array
  /** Amperes that pass into soil; without any, all volts are 0. */
  readonly throughEarthA: number
}

/** Two ends of one metre of ground, and the volts between them. */
export interface GroundStep {
  readonly volt: number
  /** The end with more volts to remote earth, and the other. */
  readonly fromM: PointM
  readonly toM: PointM
}

/** Bare ground: a point in plan, or one metre from a part, on the side where the ground has fewest of its volts. */
export type GroundPlace = { readonly atM: PointM } | { readonly besidePart: string }

/** Somebody on bare ground, while a fault's current passes through soil; `place` null: what holds for the whole site alone. */
export interface GroundStandInput
  extends Omit<FaultInput, 'person'>, Pick<PersonInput, 'surface' | 'shoeOhm' | 'isWet' | 'armReachM'> {
  readonly place: GroundPlace | null
}

/** A part in reach of somebody on the ground; nothing between the two where the fault's circuit does not reach the part. */
export interface GroundTouch {
  readonly part: string
  /** In plan, from the ground to the metal. */
  readonly distanceM: number
  readonly partV: number
  readonly person: PersonAnswer
}

export interface GroundStand {
  readonly atM: PointM
  readonly volt: number
  /** The steepest metre that begins here. */
  readonly step: GroundStep
  /** The nearest metal in reach, then the one with the most volts against the ground here if that is another. */
  readonly touch: readonly GroundTouch[]
}

export interface GroundStandAnswer {
  readonly basis: Basis
  readonly throughEarthA: number
  /** The largest step of the whole site; null where no current passes through soil. */
  readonly mostStep: GroundStep | null
  /** Post, electrode or other metal next to it; null where none is within reach of an arm. */
  readonly mostStepBeside: string | null
  /** Seconds until a device has surely ended the fault; null: it is taken to last. */
  readonly durationS: number | null
  /** What rules permit between the feet for that long. */
  readonly permittedSteps: readonly PermittedVolts[]
  readonly stand: GroundStand | null
}
