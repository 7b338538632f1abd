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
  /** The first pair that has been read, waits at a hold point, and is not signed: nothing of the walk is read before. */
  readonly heldAt: WalkPair | null
}

export function planOf({ plans }: Drawing, id: string | null): Plan | null {
  return plans.find((plan) => plan.id === id) ?? null
}

/**
 * How far a plan has been walked: a pair is done that a counted reading names, of whatever visit, for a walk may take
 * days. A hold point holds from its reading on until a signature names plan and pair. O(entries + pairs).
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
  const heldAt = pairs.find(
    ({ pair, reading }) => pair.point === 'hold' && reading !== null && !signed.has(pair.id),
  )
  return { plan, pairs, done, skipped: passed, left: pairs.length - done - passed, heldAt: heldAt ?? null }
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
 * Null where none is left.
 */
export function nextOfWalk({ pairs }: Walk, afterPlace: number): WalkPair | null {
  const isOpen = ({ reading, isSkipped }: WalkPair) => reading === null && !isSkipped
  return pairs.find((each) => each.place > afterPlace && isOpen(each)) ?? pairs.find(isOpen) ?? null
}
