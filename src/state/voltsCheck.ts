import { parsePartAddress } from '../model/address.ts'
import { countedEntries, effectiveRecord } from '../model/record/effectiveRecord.ts'
import { inCanonicalOrder } from '../model/record/canonicalOrder.ts'
import type { EntryOf } from '../model/schema/record.ts'
import type { Site } from '../model/schema/site.ts'
import { hoursBetween } from '../text/days.ts'

/** A check of volts is of the moment; after this many hours it is asked again (common practice: after each pause). */
export const voltsHoldHours = 4

/**
 * Whether ohms may be entered with the instrument at a part: `asked` there was no check of volts that holds, `held` there was
 * one and it was low, `tooHigh` the last one was above what the site allows.
 */
export type VoltsState = 'asked' | 'held' | 'tooHigh'

export interface VoltsStanding {
  readonly state: VoltsState
  /** The last check at this set-up in the visit; null where there was none. */
  readonly check: EntryOf<'volts'> | null
  /**
   * Why it is asked: none yet, the last one withdrawn, isolation noted otherwise since, hours have passed, or nothing read
   * to earth.
   */
  readonly why: 'first' | 'withdrawn' | 'isolation' | 'old' | 'noEarth' | null
}

/** The greatest of the four voltages of a check, without its sign. */
export function mostVoltsOf({ directV, alternatingV, toEarth }: EntryOf<'volts'>): number {
  const all = [directV, alternatingV, toEarth?.directV ?? 0, toEarth?.alternatingV ?? 0]
  return Math.max(...all.map(Math.abs))
}

/** Two parts of the array, or an electrode and the spikes in the soil: what is connected at each is different. */
export type VoltsSetUp = 'pair' | 'electrode'

/** Which set-up a check was made at: that of an electrode names remote earth, where the spikes are, as its other end. */
export function voltsSetUpOf({ to }: Pick<EntryOf<'volts'>, 'to'>): VoltsSetUp {
  return parsePartAddress(to)?.at === 'remoteEarth' ? 'electrode' : 'pair'
}

export interface VisitVolts {
  readonly entry: EntryOf<'volts'>
  readonly isWithdrawn: boolean
  /** Why it was withdrawn; empty where it counts. */
  readonly reason: string
}

/** Every check of volts of a visit, in canonical order, with those that were withdrawn. */
export function voltsOf(site: Site, visit: string): readonly VisitVolts[] {
  return effectiveRecord(site.record).flatMap(({ entry, withdrawnBy }): VisitVolts[] =>
    entry.entry === 'volts' && entry.visit === visit
      ? [{ entry, isWithdrawn: withdrawnBy !== null, reason: withdrawnBy?.reason ?? '' }]
      : [],
  )
}

/**
 * How volts stand at a set-up: the part that the first clip stays on, within one visit. A check that was too high stands
 * until a later one is not, and whichever set-up it was made at it locks the part for both; neither hours nor what is
 * noted of the isolation take it back. After one that was withdrawn volts are asked again, whatever was read before.
 */
export function voltsStanding(
  site: Site,
  visit: EntryOf<'visit'> | null,
  from: string,
  now: string,
  setUp: VoltsSetUp = 'pair',
): VoltsStanding {
  const isHigh = (one: EntryOf<'volts'> | undefined) =>
    one !== undefined && mostVoltsOf(one) > site.drawing.facts.mostVolts
  const all = visit === null ? [] : voltsOf(site, visit.id).filter(({ entry }) => entry.from === from)
  const atPart = all.filter(({ isWithdrawn }) => !isWithdrawn).map(({ entry }) => entry)
  const last = atPart.at(-1)
  if (last && isHigh(last)) return { state: 'tooHigh', check: last, why: null }
  const check = atPart.findLast((entry) => voltsSetUpOf(entry) === setUp) ?? null
  if (check && isHigh(check)) return { state: 'tooHigh', check, why: null }
  const latest = all.findLast(({ entry }) => voltsSetUpOf(entry) === setUp)
  if (latest?.isWithdrawn) return { state: 'asked', check, why: 'withdrawn' }
  if (check === null) return { state: 'asked', check, why: 'first' }
  if (check.toEarth === null) return { state: 'asked', check, why: 'noEarth' }
  if (isIsolationChanged(site, check)) return { state: 'asked', check, why: 'isolation' }
  if (hoursBetween(check.at, now) > voltsHoldHours) return { state: 'asked', check, why: 'old' }
  return { state: 'held', check, why: null }
}

export function voltsState(
  site: Site,
  visit: EntryOf<'visit'> | null,
  from: string,
  now: string,
  setUp: VoltsSetUp = 'pair',
): VoltsState {
  return voltsStanding(site, visit, from, now, setUp).state
}

/** Whether the visit's isolation was noted otherwise after the check than before it. */
function isIsolationChanged(site: Site, check: EntryOf<'volts'>): boolean {
  const withdrawn = new Set(countedEntries(site.record, 'withdrawal').map(({ of }) => of))
  let said: string | null = null
  let isAfter = false
  for (const entry of inCanonicalOrder(site.record)) {
    if (entry.id === check.id) isAfter = true
    const isOfVisit =
      (entry.entry === 'visit' && entry.id === check.visit) ||
      (entry.entry === 'amendment' && entry.visit === check.visit && !withdrawn.has(entry.id))
    if (!isOfVisit) continue
    const { inverter, isolators, lockOut, isolation } = entry
    const says = JSON.stringify([inverter, isolators, lockOut, isolation])
    if (isAfter && said !== null && says !== said) return true
    said = says
  }
  return false
}
