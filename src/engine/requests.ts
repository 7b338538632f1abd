import type { CheckAnswer, CurrentsAnswer, LocateAnswer, ResistanceAnswer } from '../model/answers.ts'
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

/** Every request by name, with what it asks and what it answers. */
export interface Requests {
  readonly check: [NetworkInput, CheckAnswer]
  readonly network: [NetworkInput, NetworkAnswer]
  readonly resistance: [PairInput, ResistanceAnswer]
  readonly currents: [CurrentsInput, CurrentsAnswer]
  readonly locate: [NetworkInput, LocateAnswer]
}

export type RequestName = keyof Requests

/** One question, with its name. */
export type Request = {
  readonly [N in RequestName]: { readonly name: N; readonly input: Requests[N][0] }
}[RequestName]

export type AnswerTo<N extends RequestName> = Requests[N][1]
