import { countedEntries } from '../record/effectiveRecord.ts'
import type { Drawing } from '../schema/drawing.ts'
import type { Plan } from '../schema/planning.ts'
import type { Entry, EntryOf } from '../schema/record.ts'

export type PlannedPair = Plan['pairs'][number]

export interface WalkPair {
  readonly pair: PlannedPair
  /** Place in the plan, from 1. */
  readonly place: number
  /** The last counted reading that names the pair; null where it is not read. */
  readonly reading: EntryOf<'reading'> | null
  readonly isSkipped: boolean
}

export interface Walk {
  readonly plan: Plan
  readonly pairs: readonly WalkPair[]
  readonly done: number
  readonly skipped: number
  readonly left: number
  /** The first hold point that no signature names, read or not: no pair after it is read before. */
  readonly hold: WalkPair | null
  /** That point once the walk has come to it: up to it all is read or passed over. */
  readonly heldAt: WalkPair | null
}

export function planOf({ plans }: Drawing, id: string | null): Plan | null {
  return plans.find((plan) => plan.id === id) ?? null
}

/**
 * How far a plan has been walked: a pair is done that a counted reading names, of whatever visit, for a walk may take
 * days. A hold point holds until a signature names plan and pair, whether it was read or passed over. O(entries + pairs).
 */
export function walkOf(plan: Plan, record: readonly Entry[], skipped: ReadonlySet<number>): Walk {
  const read = new Map<number, EntryOf<'reading'>>()
  for (const entry of countedEntries(record, 'reading')) {
    if (entry.plan === plan.id && entry.planPair !== null) read.set(entry.planPair, entry)
  }
  const signed = signedPairs(plan, record)
  const pairs = plan.pairs.map((pair, k): WalkPair => {
    const reading = read.get(pair.id) ?? null
    return { pair, place: k + 1, reading, isSkipped: reading === null && skipped.has(pair.id) }
  })
  const done = pairs.filter(({ reading }) => reading !== null).length
  const passed = pairs.filter(({ isSkipped }) => isSkipped).length
  const hold = pairs.find(({ pair }) => pair.point === 'hold' && !signed.has(pair.id)) ?? null
  const isThere = hold !== null && !pairs.slice(0, hold.place).some(isOpen)
  const left = pairs.length - done - passed
  return { plan, pairs, done, skipped: passed, left, hold, heldAt: isThere ? hold : null }
}

function isOpen({ reading, isSkipped }: WalkPair): boolean {
  return reading === null && !isSkipped
}

/**
 * The hold point that a reading between two parts waits for, in whatever way it is begun; null where none. A pair that
 * also stands up to the hold point, and one that is not of the plan, waits for nothing.
 */
export function holdBefore({ pairs, hold }: Walk, from: string, to: string): WalkPair | null {
  if (hold === null) return null
  const those = pairs.filter(
    ({ pair }) => (pair.from === from && pair.to === to) || (pair.from === to && pair.to === from),
  )
  return those.length > 0 && those.every(({ place }) => place > hold.place) ? hold : null
}

function signedPairs(plan: Plan, record: readonly Entry[]): ReadonlySet<number> {
  return new Set(
    countedEntries(record, 'signature').flatMap((entry) =>
      entry.plan === plan.id && entry.planPair !== null ? [entry.planPair] : [],
    ),
  )
}

/**
 * The next pair of a walk that is neither read nor passed over, from a place on; at the end it begins anew at the first.
 * Never one behind a hold point. Null where none is left.
 */
export function nextOfWalk({ pairs, hold }: Walk, afterPlace: number): WalkPair | null {
  const free = pairs.slice(0, hold?.place).filter(isOpen)
  return free.find(({ place }) => place > afterPlace) ?? free.at(0) ?? null
}
