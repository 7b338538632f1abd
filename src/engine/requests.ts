import type {
  CheckAnswer,
  CurrentMapAnswer,
  CurrentsAnswer,
  ExpectAnswer,
  JointAnswer,
  JudgeAnswer,
  LocateAnswer,
  NextAnswer,
  PartAnswer,
  ResistanceAnswer,
} from '../model/answers.ts'
import type {
  DrillAnswer,
  DrillAskInput,
  DrillCallInput,
  DrillReadingInput,
  DrillResumeInput,
  DrillStartInput,
} from '../model/drill.ts'
import type { LessonAnswer, LessonInput } from '../model/lessons.ts'
import type { ComparisonAnswer } from '../model/comparison.ts'
import type {
  CoverageAnswer,
  CoverageInput,
  JointSightAnswer,
  JointSightInput,
  PlanAnswer,
  PlanInput,
  SampleAnswer,
  SampleInput,
  WalkAnswer,
  WalkInput,
} from '../model/planning.ts'
import type {
  FaultAnswer,
  FaultInput,
  FaultSweepAnswer,
  FaultSweepInput,
  GroundStandAnswer,
  GroundStandInput,
  GroundVoltsAnswer,
  GroundVoltsInput,
} from '../model/faultAnswers.ts'
import type { Kit, Lead } from '../model/schema/record.ts'
import type { NetworkAnswer } from './networkAnswer.ts'

/** Which network a question is put to. */
export interface NetworkInput {
  /** Whether bare contact that conducts today counts as a joint. */
  readonly countIncidental: boolean
  /** Whether what was found otherwise than drawn goes over what was drawn. */
  readonly asBuilt: boolean
}

export interface PairInput extends NetworkInput {
  readonly from: string
  readonly to: string
}

export interface CurrentsInput extends PairInput {
  /** At most this many joints are listed, those with the largest current; all where left out. */
  readonly most?: number
}

export interface JointInput extends NetworkInput {
  readonly joint: string
}

export interface PartInput extends NetworkInput {
  readonly part: string
}

/** A pair that is about to be measured, and with what; without a kit only the network is predicted. */
export interface ExpectInput extends PairInput {
  readonly kit?: Kit | null
  /** The lead of a two-wire reading, and whether it has been nulled (taken as nulled where left out). */
  readonly lead?: Lead | null
  readonly isNulled?: boolean
}

/** Every request by name, with what it asks and what it answers. */
export interface Requests {
  readonly check: [NetworkInput, CheckAnswer]
  readonly network: [NetworkInput, NetworkAnswer]
  readonly resistance: [PairInput, ResistanceAnswer]
  readonly currents: [CurrentsInput, CurrentsAnswer]
  readonly locate: [NetworkInput, LocateAnswer]
  readonly next: [NetworkInput, NextAnswer]
  readonly judge: [NetworkInput, JudgeAnswer]
  readonly compare: [NetworkInput, ComparisonAnswer]
  readonly currentMap: [PairInput, CurrentMapAnswer]
  readonly inspectJoint: [JointInput, JointAnswer]
  readonly inspectPart: [PartInput, PartAnswer]
  readonly expect: [ExpectInput, ExpectAnswer]
  readonly coverage: [CoverageInput, CoverageAnswer]
  readonly plan: [PlanInput, PlanAnswer]
  readonly sample: [SampleInput, SampleAnswer]
  readonly walk: [WalkInput, WalkAnswer]
  readonly jointSight: [JointSightInput, JointSightAnswer]
  readonly faultCurrent: [FaultInput, FaultAnswer]
  readonly faultSweep: [FaultSweepInput, FaultSweepAnswer]
  readonly groundVolts: [GroundVoltsInput, GroundVoltsAnswer]
  readonly groundStand: [GroundStandInput, GroundStandAnswer]
  readonly drillStart: [DrillStartInput, DrillAnswer]
  readonly drillReading: [DrillReadingInput, DrillAnswer]
  readonly drillCall: [DrillCallInput, DrillAnswer]
  readonly drillResume: [DrillResumeInput, DrillAnswer]
  readonly drillAsk: [DrillAskInput, DrillAnswer]
  readonly lesson: [LessonInput, LessonAnswer]
}

export type RequestName = keyof Requests

/** One question, with its name. */
export type Request = {
  readonly [N in RequestName]: { readonly name: N; readonly input: Requests[N][0] }
}[RequestName]

export type AnswerTo<N extends RequestName> = Requests[N][1]
