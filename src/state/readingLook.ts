import type { JudgeAnswer, LocateAnswer } from '../model/answers.ts'

/** How a reading is drawn and named: told apart by line and marker, not by colour alone. */
export type ReadingLook =
  | 'within'
  | 'investigate'
  | 'overRange'
  | 'poorContact'
  | 'noMetalPath'
  | 'tooLow'
  /** Above its criterion with the ohms of a lead that was not nulled, and no more than the network expects with them. */
  | 'leadIn'
  | 'setAside'
  /** Just entered: nothing computed speaks of it yet. */
  | 'waiting'
  /** By read ÷ expected (`readingTimes.ts`): lower, as much, and in steps of some three times higher. */
  | 'timesBelow'
  | 'timesNear'
  | 'timesRaised'
  | 'timesHigh'
  | 'timesFar'

/** A pair that is to be read: of a plan, asked for by a contract, or of a proposal that is being looked at. */
export type PairLook = 'planned' | 'required' | 'proposed'

/** Every look that a line between two parts can have on the map. */
export type LineLook = ReadingLook | PairLook

/** What the two answers say of each reading, by entry id. */
export interface ReadingVerdicts {
  readonly locate: ReadonlyMap<string, LocateAnswer['readings'][number]>
  readonly judge: ReadonlyMap<string, JudgeAnswer['readings'][number]>
}

export function verdictsOf(locate: LocateAnswer | null, judge: JudgeAnswer | null): ReadingVerdicts {
  return {
    locate: new Map((locate?.readings ?? []).map((reading) => [reading.entry, reading])),
    judge: new Map((judge?.readings ?? []).map((reading) => [reading.entry, reading])),
  }
}

/**
 * The look of a reading. What is wrong with the reading itself comes before what it says of the array: a
 * missing metal path, over range, a spoiled reading, then the criterion and the network's expectation.
 */
export function lookOf(entry: string, { locate, judge }: ReadingVerdicts): ReadingLook {
  const located = locate.get(entry)
  if (!located) return 'waiting'
  switch (located.verdict) {
    case 'setAside':
    case 'noMetalPath':
    case 'overRange':
    case 'poorContact':
    case 'tooLow':
      return located.verdict
    case 'highBySuspect':
    case 'highUnexplained':
      return 'investigate'
    case 'inLine': {
      const judged = judge.get(entry)?.verdict
      if (judged !== 'investigate' && judged !== 'reject') return 'within'
      return located.isLeadIn ? 'leadIn' : 'investigate'
    }
  }
}
