import type { Lead } from '../../../../../src/model/schema/record.ts'
import { copper, mostDriftKelvinPerHour, nulled } from '../../../../generator/assumedValues.ts'
import { leadOhm } from '../../../../generator/drawLead.ts'
import { assumed } from '../../generator/assumed.ts'
import { ambientC } from '../../generator/takeReadings.ts'

/** A state of the lead after a nulling: ohms at its beginning, ohms per hour after that, and its chance. */
export interface OffsetState {
  readonly startOhm: number
  readonly perHourOhm: number
  readonly chance: number
}

/** Middles of `n` even cells of 0 … 1. */
const middles = (n: number) => Array.from({ length: n }, (_, k) => (k + 0.5) / n)

/** What the lead may be at, in even shares; drift is left out where the lack of ohms is spread wider than it.
 * without a nulling it is the lead's own ohms. */
export function offsetStates(lead: Lead, isNulled: boolean): OffsetState[] {
  const ownOhm = leadOhm(lead, ambientC)
  const drifts = middles(3).map((u) => ownOhm * copper.perKelvin * mostDriftKelvinPerHour * (2 * u - 1))
  const withDrift = (startOhm: number, chance: number) =>
    drifts.map((perHourOhm) => ({ startOhm, perHourOhm, chance: chance / drifts.length }))
  if (!isNulled) return withDrift(ownOhm, 1)
  const over = assumed.overNulledRate / (1 - assumed.notNulledRate)
  const { overNulledFromOhm: from, overNulledToOhm: to } = assumed
  const left = middles(4).map(
    (u) =>
      (nulled.shareFrom + (nulled.shareTo - nulled.shareFrom) * u) * ownOhm +
      (nulled.ohmFrom + nulled.ohmTo) / 2,
  )
  return [
    ...left.flatMap((ohm) =>
      [-1, 1].flatMap((sign) => withDrift(sign * ohm, (1 - over) / (2 * left.length))),
    ),
    ...middles(10).map((u) => ({
      startOhm: -from * (to / from) ** u,
      perHourOhm: 0,
      chance: over / 10,
    })),
  ]
}
