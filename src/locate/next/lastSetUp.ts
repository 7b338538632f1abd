import { parsePartAddress } from '../../model/address.ts'
import type { EntryOf, Kit } from '../../model/schema/record.ts'
import type { Site } from '../../model/schema/site.ts'
import { partIndexOf } from '../../layout/partIndex.ts'
import type { Network } from '../../network/compile.ts'
import { soundContact } from '../../reading/contact.ts'
import { digitsSdOhm } from '../../reading/kitError.ts'
import { reachOfLeadM, shortReachM, straightM } from '../../walk/reach.ts'
import { isBetweenParts } from '../observations.ts'
import type { Posterior } from '../posterior.ts'

type Reading = EntryOf<'reading'>

/** Hours from the last reading to the next one. */
const laterHours = 0.1

/** Instrument, lead and places as the last reading left them: what the next one is taken with. */
export interface SetUp {
  readonly reading: Reading
  readonly kit: Kit
  /** Number of the instrument among those of the measurement. */
  readonly kitNumber: number
  /** The open nulling interval; −1 where no lead is in the reading. */
  readonly interval: number
  readonly hours: number
  readonly hasContact: boolean
  /** Spread of contact and digits, and of digits alone. */
  readonly ownSdOhm: number
  readonly digitsSdOhm: number
  /** What contact and offset add on average. */
  readonly addedOhm: number
  readonly offsetOhm: number
  /** Variance of offset and drift. */
  readonly leadVarianceOhm2: number
  readonly reachM: number
  /** Where the instrument stands, and where the last reading ended. */
  readonly reference: number
  readonly standing: number
  /** All first points of readings, the last used first. */
  readonly references: readonly number[]
}

/** The set-up of the last reading that counts. */
export function lastSetUp(site: Site, { observed, measurement, prepared }: Posterior): SetUp {
  const { network } = prepared
  const { observations, intervals, kitOf } = measurement
  const counted = observations.flatMap((o, p) => (isBetweenParts(o) ? [p] : []))
  const last = counted[counted.length - 1]
  const byEntry = new Map(observed.readings.map(({ reading }) => [reading.id, reading]))
  const readings = counted.flatMap((p) => byEntry.get(observations[p].entry) ?? [])
  const reading = readings[readings.length - 1]
  const { kit, hasContact } = observations[last]
  const interval = hasContact
    ? intervals.findLastIndex(
        ({ visit, kit: id, lead }) =>
          visit === reading.visit && id === reading.kit && lead === (reading.lead ?? null),
      )
    : -1
  const isOpen = interval >= 0 && interval === observations[last].interval
  const hours = laterHours + (isOpen ? observations[last].hoursAfterNulling : 0)
  const nulled = interval < 0 ? null : intervals[interval]
  const digits = digitsSdOhm(kit)
  const offsetOhm = nulled?.offsetMeanOhm ?? 0
  return {
    reading,
    kit,
    kitNumber: kitOf[last],
    interval,
    hours,
    hasContact,
    ownSdOhm: Math.hypot(hasContact ? soundContact.sdOhm : 0, digits),
    digitsSdOhm: digits,
    addedOhm: offsetOhm + (hasContact ? soundContact.meanOhm : 0),
    offsetOhm,
    leadVarianceOhm2: nulled ? nulled.offsetSdOhm ** 2 + (nulled.driftSdOhmPerHour * hours) ** 2 : 0,
    reachM: reachOf(site, network, reading, readings),
    reference: nodeOf(network, reading.from.part),
    standing: nodeOf(network, reading.to.part),
    references: [...new Set(readings.toReversed().map(({ from }) => nodeOf(network, from.part)))],
  }
}

function nodeOf({ index }: Network, text: string): number {
  const address = parsePartAddress(text)
  return address ? partIndexOf(index, address) : -1
}

/** What the lead spans; without one, as far as the instrument was ever used. */
function reachOf(site: Site, network: Network, last: Reading, readings: readonly Reading[]): number {
  if (last.lead !== null) {
    const visit = site.record.find(({ id }) => id === last.visit)
    const lead = visit?.entry === 'visit' ? visit.leads.find(({ id }) => id === last.lead) : undefined
    if (lead) return reachOfLeadM(lead.lengthM)
  }
  return readings
    .filter(({ kit, lead }) => kit === last.kit && lead === last.lead)
    .map(({ from, to }) => straightM(network.index, nodeOf(network, from.part), nodeOf(network, to.part)))
    .reduce((most, m) => (m < Infinity ? Math.max(most, m) : most), shortReachM)
}
