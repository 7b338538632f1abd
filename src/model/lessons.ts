import type { Basis } from './answers.ts'
import type { FaultInput, LimitedBy, ShockZone, DeviceActs } from './faultAnswers.ts'
import type { ProtectiveDevice } from './schema/faults.ts'

/** A fault that a step shows, with the devices that it has before it instead of those of the drawing. */
export interface LessonSetup {
  readonly fault: FaultInput
  readonly devices: readonly ProtectiveDevice[]
}

/** A figure that the engine gives for one of the set-ups (`in`), or the ratio of two figures by name. */
export type LessonFigure =
  | { readonly of: PlainFigure; readonly in: string }
  | { readonly of: 'jointA' | 'jointV'; readonly in: string; readonly joint: string }
  | { readonly of: 'partV'; readonly in: string; readonly part: string }
  | { readonly of: 'verdict' | 'leastS' | 'mostS'; readonly in: string; readonly device: string }
  /** Largest volts over a metre of ground within so many metres round a part. */
  | { readonly of: 'stepV'; readonly in: string; readonly round: string; readonly withinM: number }
  | { readonly of: 'ratio'; readonly top: string; readonly bottom: string }

export type PlainFigure =
  | 'faultA'
  | 'openV'
  | 'sourceV'
  | 'faultV'
  | 'networkOhm'
  | 'throughEarthA'
  | 'limitedBy'
  | 'insulationOhm'
  | 'alarmBelowOhm'
  | 'alarms'
  | 'isHidden'
  | 'prospectiveV'
  | 'bodyA'
  | 'zone'

/** Null: there is none, as of a device that never acts; an infinite resistance is a number. */
export type LessonValue = number | boolean | LimitedBy | ShockZone | DeviceActs['verdict'] | null

/** What must be so for a marked answer to be right. */
export type LessonClaim =
  | { readonly figure: string; readonly least: number; readonly most: number }
  | { readonly figure: string; readonly is: LessonValue }

export interface LessonQuestion {
  readonly choices: readonly string[]
  /** Place of the right one among the choices, from 0. */
  readonly right: number
  readonly why: string
  readonly claims: readonly LessonClaim[]
}

/** Texts have figures by name in braces: `{sound}`. The text of a step with a question is the question. */
export interface LessonStep {
  readonly text: string
  /** Part or joint that the map shows; null for none. */
  readonly about: string | null
  /** Further parts and joints that are in view with it. */
  readonly beside?: readonly string[]
  /** What to look at there, and where an answer can be found. */
  readonly see: string
  readonly setup: string | null
  readonly question: LessonQuestion | null
}

/** A lesson that comes with the program, on a demo site. */
export interface ShippedLesson {
  readonly id: string
  readonly title: string
  readonly learns: string
  /** File of the demo site in demo-data/, and the id of that site. */
  readonly demo: string
  readonly site: string
  readonly setups: Readonly<Record<string, LessonSetup>>
  readonly figures: Readonly<Record<string, LessonFigure>>
  /** The map tints the ground with its volts. */
  readonly hasGround?: boolean
  readonly steps: readonly LessonStep[]
}

export type LessonInput = Pick<ShippedLesson, 'setups' | 'figures'>

export interface LessonAnswer {
  readonly basis: Basis
  readonly values: Readonly<Record<string, LessonValue>>
}

/** Whether a claim holds among these values; one whose figure is not there does not. */
export function doesHold(claim: LessonClaim, values: LessonAnswer['values']): boolean {
  const value = values[claim.figure]
  if ('is' in claim) return value === claim.is
  return typeof value === 'number' && value >= claim.least && value <= claim.most
}
