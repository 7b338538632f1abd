import type { Entry, EntryOf } from '../schema/record.ts'
import { inCanonicalOrder } from './canonicalOrder.ts'

/** An entry as it counts after everything that was recorded about it. */
export interface EffectiveEntry {
  /** With the values of its corrections. */
  readonly entry: Entry
  /** As it was first recorded; the same object where nothing was corrected. */
  readonly original: Entry
  /** Corrections that count, in order; where two change one value, the later one holds. */
  readonly corrections: readonly EntryOf<'correction'>[]
  /** The first withdrawal that counts, or null: an entry with one is not to be counted. */
  readonly withdrawnBy: EntryOf<'withdrawal'> | null
}

const known = new WeakMap<readonly Entry[], readonly EffectiveEntry[]>()

/**
 * Every entry in canonical order with its corrections applied and marked where it is withdrawn. Withdrawals
 * and corrections can be withdrawn too: a withdrawn withdrawal lets its entry count again, a withdrawn
 * correction changes nothing. Entries that withdraw each other in a ring (no program writes that) withdraw
 * nothing. Nothing is dropped: entries of every sort come back. Cost O(n log n), once for each record.
 */
export function effectiveRecord(record: readonly Entry[]): readonly EffectiveEntry[] {
  let effective = known.get(record)
  if (!effective) {
    effective = makeEffective(record)
    known.set(record, effective)
  }
  return effective
}

function makeEffective(record: readonly Entry[]): readonly EffectiveEntry[] {
  const ordered = inCanonicalOrder(record)
  const withdrawnBy = findWithdrawn(ordered)
  const amended = findAmended(ordered, withdrawnBy)
  const corrections = new Map<string, EntryOf<'correction'>[]>()
  for (const entry of ordered) {
    if (entry.entry !== 'correction' || withdrawnBy.has(entry.id)) continue
    const those = corrections.get(entry.of)
    if (those) those.push(entry)
    else corrections.set(entry.of, [entry])
  }
  return ordered.map((original) => {
    const applied = corrections.get(original.id) ?? []
    return {
      entry:
        original.entry === 'visit' ? amend(original, amended) : applied.reduce(applyCorrection, original),
      original,
      corrections: applied,
      withdrawnBy: withdrawnBy.get(original.id) ?? null,
    }
  })
}

/** The entries of one sort that count, as corrected, in canonical order. */
export function countedEntries<K extends Entry['entry']>(
  record: readonly Entry[],
  sort: K,
): readonly EntryOf<K>[] {
  const counted: EntryOf<K>[] = []
  for (const { entry, withdrawnBy } of effectiveRecord(record)) {
    if (entry.entry === sort && !withdrawnBy) counted.push(entry as EntryOf<K>)
  }
  return counted
}

/** The amendments that count, in order, by their visit's id. */
function findAmended(
  ordered: readonly Entry[],
  withdrawnBy: ReadonlyMap<string, unknown>,
): ReadonlyMap<string, readonly EntryOf<'amendment'>[]> {
  const amended = new Map<string, EntryOf<'amendment'>[]>()
  for (const entry of ordered) {
    if (entry.entry !== 'amendment' || withdrawnBy.has(entry.id)) continue
    const those = amended.get(entry.visit)
    if (those) those.push(entry)
    else amended.set(entry.visit, [entry])
  }
  return amended
}

/**
 * A visit as it was noted last. Instruments and leads that an amendment leaves out stay as they were said before: what
 * was measured with them keeps them.
 */
function amend(
  visit: EntryOf<'visit'>,
  amended: ReadonlyMap<string, readonly EntryOf<'amendment'>[]>,
): EntryOf<'visit'> {
  let now = visit
  for (const said of amended.get(visit.id) ?? []) {
    const { party, purpose, weather, ambientC, inverter, isolators, lockOut, isolation } = said
    const kits = withEarlier(said.kits, now.kits)
    const leads = withEarlier(said.leads, now.leads)
    now = { ...now, party, purpose, weather, ambientC, inverter, isolators, lockOut, isolation, kits, leads }
  }
  return now
}

function withEarlier<T extends { readonly id: string }>(
  said: readonly T[],
  before: readonly T[],
): readonly T[] {
  return [...said, ...before.filter(({ id }) => !said.some((one) => one.id === id))]
}

function applyCorrection(entry: Entry, { result, from, to }: EntryOf<'correction'>): Entry {
  if (entry.entry === 'leadCheck') return result ? { ...entry, result } : entry
  if (entry.entry !== 'reading') return entry
  return { ...entry, result: result ?? entry.result, from: from ?? entry.from, to: to ?? entry.to }
}

/**
 * The withdrawal that counts for each withdrawn entry. A withdrawal counts when none that counts is aimed at
 * it, so those that nothing is aimed at are settled first and each settles its target in turn.
 */
function findWithdrawn(ordered: readonly Entry[]): ReadonlyMap<string, EntryOf<'withdrawal'>> {
  const place = new Map<string, number>()
  const unsettled = new Map<string, number>()
  const withdrawals = new Map<string, EntryOf<'withdrawal'>>()
  ordered.forEach((entry, k) => {
    place.set(entry.id, k)
    if (entry.entry !== 'withdrawal') return
    withdrawals.set(entry.id, entry)
    unsettled.set(entry.of, (unsettled.get(entry.of) ?? 0) + 1)
  })
  const withdrawnBy = new Map<string, EntryOf<'withdrawal'>>()
  const ready = [...withdrawals.values()].filter(({ id }) => !unsettled.has(id))
  for (let w = ready.pop(); w; w = ready.pop()) {
    if (!withdrawnBy.has(w.id)) {
      const first = withdrawnBy.get(w.of)
      if (!first || place.get(w.id)! < place.get(first.id)!) withdrawnBy.set(w.of, w)
    }
    const left = unsettled.get(w.of)! - 1
    unsettled.set(w.of, left)
    const target = withdrawals.get(w.of)
    if (left === 0 && target) ready.push(target)
  }
  return withdrawnBy
}
