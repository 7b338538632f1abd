import { parsePartAddress } from '../model/address.ts'
import { defaultKits } from '../model/kits.ts'
import type { PlanKit } from '../model/planning.ts'
import { countedEntries } from '../model/record/effectiveRecord.ts'
import type { Entry, EntryOf, Kit, Lead } from '../model/schema/record.ts'
import { partIndexOf } from '../layout/partIndex.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { reachOfLeadM, reachOfOwnLeadsM, straightM } from '../walk/reach.ts'

/** The instrument that most crews carry, and the lead that they carry with it. */
const commonestKit = defaultKits[0]
const usualLead: Lead = { id: 'lead-50m', name: 'lead', lengthM: 50, areaMm2: 1.5, material: 'copper' }

/**
 * What the readings of a plan are taken with: what is given; else what the last bond reading was taken with; else the first
 * instrument and lead of the last visit; else the commonest instrument with 50 m of lead. An instrument that is given
 * without a word of a lead takes the last one of the record if it is two-wire. `lead` null: leads of its own, which
 * span what walk/reach.ts says, or as far as the instrument was ever used.
 */
export function planKitOf(
  record: readonly Entry[],
  index: SiteIndex,
  given: { readonly kit?: Kit | null; readonly lead?: Lead | null },
): PlanKit {
  const visits = countedEntries(record, 'visit')
  const readings = countedEntries(record, 'reading').filter(
    ({ method }) => method === 'twoWire' || method === 'fourWire',
  )
  const last = lastUsed(visits, readings)
  const kit = given.kit ?? last?.kit ?? commonestKit
  const hasLeadOfRecord = given.kit ? kit.method === 'twoWire' : last !== null
  const usual = kit.method === 'twoWire' ? (last?.lead ?? usualLead) : (last?.lead ?? null)
  const lead =
    given.lead !== undefined
      ? given.lead
      : hasLeadOfRecord
        ? usual
        : kit.method === 'twoWire'
          ? usualLead
          : null
  if (lead) return { kit, lead, reachM: reachOfLeadM(lead.lengthM) }
  const used = readings.filter((reading) => reading.kit === kit.id && reading.lead === null)
  return { kit, lead, reachM: Math.max(reachOfOwnLeadsM(kit), ...used.map((each) => spanM(index, each))) }
}

interface Used {
  readonly kit: Kit
  readonly lead: Lead | null
}

function lastUsed(visits: readonly EntryOf<'visit'>[], readings: readonly EntryOf<'reading'>[]): Used | null {
  const byId = new Map(visits.map((visit) => [visit.id, visit]))
  for (const reading of readings.toReversed()) {
    const visit = byId.get(reading.visit)
    const kit = visit?.kits.find(({ id }) => id === reading.kit)
    if (kit) return { kit, lead: visit?.leads.find(({ id }) => id === reading.lead) ?? null }
  }
  const visit = visits.at(-1)
  const kit = visit?.kits.find(({ method }) => method === 'twoWire' || method === 'fourWire')
  return kit ? { kit, lead: kit.method === 'twoWire' ? (visit?.leads[0] ?? null) : null } : null
}

function spanM(index: SiteIndex, { from, to }: EntryOf<'reading'>): number {
  const ends = [from, to].map(({ part }) => {
    const address = parsePartAddress(part)
    return address ? partIndexOf(index, address) : -1
  })
  const apart = ends.some((end) => end < 0) ? 0 : straightM(index, ends[0], ends[1])
  return Number.isFinite(apart) ? apart : 0
}
