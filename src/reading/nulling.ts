import { present } from '../base/assert.ts'
import type { Entry, EntryOf, Kit, Lead } from '../model/schema/record.ts'
import { assumptions } from './assumptions.ts'
import { leadOhm } from './leadOhm.ts'

/**
 * The readings and lead checks between one act of nulling and the next with the same instrument and lead:
 * they share one offset and one drift. `entry` is null for what was read without nulling.
 */
export interface NullingInterval {
  readonly entry: string | null
  readonly visit: string
  readonly kit: string
  readonly lead: string | null
  readonly startedAt: string
  /** The lead's own resistance at its temperature when nulled. */
  readonly leadOhm: number
  /** Offset before any reading has spoken: mean and standard deviation in ohm. */
  readonly offsetMeanOhm: number
  readonly offsetSdOhm: number
  /** Standard deviation of the drift, ohm per hour. */
  readonly driftSdOhmPerHour: number
}

export interface IntervalBook {
  readonly intervals: readonly NullingInterval[]
  /** Interval of a reading or lead check, by entry id; −1 where no lead offset applies (four-wire). */
  intervalOf(entry: string): number
}

type Measured = EntryOf<'reading'> | EntryOf<'leadCheck'>

function isMeasured(entry: Entry): entry is Measured {
  return entry.entry === 'reading' || entry.entry === 'leadCheck'
}

/**
 * What a lead adds to a reading before any reading has spoken: mean and standard deviation in ohm. Nulling leaves
 * a share of the lead's own ohms and what the clips do; without it the lead is in the reading, roughly known.
 */
export function leadOffsetOhm(
  ownOhm: number,
  isNulled: boolean,
): { readonly mean: number; readonly sd: number } {
  const a = assumptions.lead
  return isNulled
    ? { mean: 0, sd: Math.hypot(a.nulledShare * ownOhm, a.nulledOhm) }
    : { mean: ownOhm, sd: Math.hypot(a.unknownShare * ownOhm, a.nulledOhm) }
}

function describeInterval(
  first: Measured | EntryOf<'nulling'>,
  lead: Lead | null,
  nulled: boolean,
  ambientC: number,
): NullingInterval {
  const temperatureC = first.entry === 'nulling' ? (first.leadC ?? ambientC) : ambientC
  const ownOhm = lead ? leadOhm(lead, temperatureC) : 0
  const a = assumptions.lead
  const offset = leadOffsetOhm(ownOhm, nulled)
  return {
    entry: nulled ? first.id : null,
    visit: first.visit,
    kit: first.kit,
    lead: lead?.id ?? null,
    startedAt: first.at,
    leadOhm: ownOhm,
    offsetMeanOhm: offset.mean,
    offsetSdOhm: offset.sd,
    driftSdOhmPerHour: ownOhm * a.perKelvin * a.driftKelvinPerHour,
  }
}

/**
 * Sorts the two-wire readings and lead checks of a record (in canonical order) into nulling intervals.
 * A reading belongs to the latest nulling before it in its visit with its instrument and lead.
 */
export function bookIntervals(entries: readonly Entry[], defaultAmbientC: number): IntervalBook {
  const intervals: NullingInterval[] = []
  const current = new Map<string, number>()
  const ofEntry = new Map<string, number>()
  const visits = new Map<string, EntryOf<'visit'>>()
  const open = (first: Measured | EntryOf<'nulling'>, leadId: string | null, nulled: boolean): number => {
    const visit = visits.get(first.visit)
    const lead = visit?.leads.find((candidate) => candidate.id === leadId) ?? null
    intervals.push(describeInterval(first, lead, nulled, visit?.ambientC ?? defaultAmbientC))
    return intervals.length - 1
  }
  for (const entry of entries) {
    if (entry.entry === 'visit') visits.set(entry.id, entry)
    else if (entry.entry === 'nulling') {
      current.set(`${entry.visit} ${entry.kit} ${entry.lead}`, open(entry, entry.lead, true))
    } else if (isMeasured(entry)) {
      if (entry.entry === 'reading' && entry.method !== 'twoWire') continue
      const key = `${entry.visit} ${entry.kit} ${entry.lead ?? ''}`
      if (!current.has(key)) current.set(key, open(entry, entry.lead, false))
      ofEntry.set(entry.id, present(current.get(key), 'an interval was opened for this key'))
    }
  }
  return { intervals, intervalOf: (id) => ofEntry.get(id) ?? -1 }
}

/** The instrument that an entry names, from the visit it belongs to. */
export function kitOf(visit: EntryOf<'visit'> | undefined, kit: string): Kit | undefined {
  return visit?.kits.find((candidate) => candidate.id === kit)
}
