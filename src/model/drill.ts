import type { Basis, LocateAnswer, NextAnswer } from './answers.ts'
import type { Kit, Lead, OhmOrOver } from './schema/record.ts'

/** What is hidden: by a seed, or a joint that the trainer chose, with the ohms that it gains; null: open. */
export type DrillHiding =
  | { readonly by: 'seed'; readonly seed: number }
  | {
      readonly by: 'trainer'
      readonly seed: number
      readonly joint: string
      readonly addedOhm: number | null
    }

/** What the program can be asked for help with: what the readings say so far, what to measure next. */
export type DrillQuestion = 'suspects' | 'next'

export interface DrillStartInput {
  readonly countIncidental: boolean
  readonly asBuilt: boolean
  readonly hiding: DrillHiding
  readonly kit: Kit
  /** The long lead of a two-wire instrument; null for four-wire clips. */
  readonly lead: Lead | null
  /** What may be asked for; the trainer says. */
  readonly mayAsk: Readonly<Record<DrillQuestion, boolean>>
}

/** Asks for help, worked out from the readings that were taken, as if they were a record of the site. */
export interface DrillAskInput {
  readonly question: DrillQuestion
}

/** One asking, and after how many readings. */
export interface DrillAsked {
  readonly question: DrillQuestion
  readonly readings: number
}

/** A pair that is read for the first time; the last one read again; the same with the clips taken off and seated afresh. */
export type DrillReadingInput =
  | { readonly how: 'new'; readonly from: string; readonly to: string }
  | { readonly how: 'again' }
  | { readonly how: 'reseat' }

/** A joint named as the bad one, a reading named as a bad test, leads nulled, the end; `look`: how it stands, nothing changed. */
export type DrillCallInput =
  | { readonly call: 'joint'; readonly joint: string }
  | { readonly call: 'badTest'; readonly reading: number }
  | { readonly call: 'nullLeads' }
  | { readonly call: 'giveUp' }
  | { readonly call: 'look' }

/** A simulated reading. It is no entry of the record and never becomes one. */
export interface DrillReading {
  /** From 1. */
  readonly number: number
  readonly from: string
  readonly to: string
  readonly how: DrillReadingInput['how']
  readonly isNulled: boolean
  /** How often the leads had been nulled before it. */
  readonly nullings: number
  readonly result: OhmOrOver
  readonly minutes: number
  /** What a sound array would read with this instrument and lead, and the standard deviation of that. */
  readonly expectedOhm: number
  readonly spreadOhm: number
}

export type DrillCalled =
  | { readonly call: 'joint'; readonly joint: string; readonly isRight: boolean }
  | { readonly call: 'badTest'; readonly reading: number; readonly isRight: boolean }

/** Points for each thing, of 100 for the joint; those that are taken are below 0. */
export interface DrillScore {
  readonly found: number
  readonly readings: number
  readonly minutes: number
  readonly wrongCalls: number
  readonly badTests: number
  readonly asked: number
  /** All of it, not below 0 and not above 100. */
  readonly total: number
}

export interface DrillTold {
  readonly suspects: LocateAnswer | null
  readonly next: NextAnswer | null
}

/** What may be seen of a drill. Where the hidden joint is stays in the engine until the drill is over. */
export interface DrillAnswer {
  readonly basis: Basis
  readonly by: DrillHiding['by']
  readonly seed: number
  readonly kit: Kit
  readonly lead: Lead | null
  readonly isNulled: boolean
  readonly nullings: number
  readonly readings: readonly DrillReading[]
  readonly called: readonly DrillCalled[]
  readonly mayAsk: DrillStartInput['mayAsk']
  readonly asked: readonly DrillAsked[]
  /** What was told of the readings as they are now; null where that was not asked. Entries are called by `drillEntry`. */
  readonly told: DrillTold
  readonly minutes: number
  readonly score: DrillScore
  /** Null while the drill goes on. */
  readonly revealed: {
    readonly isFound: boolean
    readonly joint: string
    /** Ohms that it gained; null: open. */
    readonly addedOhm: number | null
    /** Numbers of the readings that were taken through a poor contact. */
    readonly badTests: readonly number[]
  } | null
}

/** What has to be known of a drill, beside how it was begun, to bring it back to where it stood. */
export interface DrillStood extends Pick<DrillAnswer, 'nullings' | 'called' | 'asked'> {
  readonly readings: readonly Pick<DrillReading, 'from' | 'to' | 'how' | 'nullings' | 'result'>[]
}

/** A drill that the engine no longer has is gone through again, step by step: the same seed gives the same. */
export interface DrillResumeInput {
  readonly start: DrillStartInput
  readonly stood: DrillStood
}

/** One line of the attendance and result sheet. */
export interface DrillSheet {
  readonly at: string
  readonly site: string
  readonly trainee: string
  readonly trainer: string
  readonly seed: number
  readonly by: 'seed' | 'trainer'
  readonly kit: string
  readonly isFound: boolean
  readonly joint: string
  readonly readings: number
  readonly minutes: number
  readonly wrongCalls: number
  readonly badTests: number
  /** How often each was asked; null where it was switched off, and on a line of before it could be. */
  readonly asked: Readonly<Record<DrillQuestion, number | null>>
  readonly points: number
}
