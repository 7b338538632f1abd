import { assert } from '../../src/base/assert.ts'
import type { RandomStream } from '../../src/base/random.ts'
import type { Lead } from '../../src/model/schema/record.ts'
import { copper, mostDriftKelvinPerHour, nulled } from './assumedValues.ts'

/** A copper lead's own ohms: ρ₂₀ L / A · (1 + α (T − 20)). */
export function leadOhm({ lengthM, areaMm2, material }: Lead, temperatureC: number): number {
  assert(material === 'copper', 'leads are of copper here')
  const coldOhm = (copper.resistivityOhmM * lengthM) / (areaMm2 * 1e-6)
  return coldOhm * (1 + copper.perKelvin * (temperatureC - 20))
}

/** The offset that a lead puts into a reading, so many hours after the interval began. */
export type LeadOffset = (hours: number) => number

/** Draws what nulling leaves and how the lead warms after it; not nulled, the lead's own ohms come on top. */
export function drawLeadOffset(
  lead: Lead | null,
  temperatureC: number,
  isNulled: boolean,
  random: RandomStream,
): LeadOffset {
  if (!lead) return () => 0
  const ownOhm = leadOhm(lead, temperatureC)
  const within = (from: number, to: number) => from + (to - from) * random.uniform()
  const sign = random.uniform() < 0.5 ? -1 : 1
  const left =
    sign * (within(nulled.shareFrom, nulled.shareTo) * ownOhm + within(nulled.ohmFrom, nulled.ohmTo))
  const kelvinPerHour = within(-mostDriftKelvinPerHour, mostDriftKelvinPerHour)
  const startOhm = isNulled ? left : ownOhm
  return (hours) => startOhm + ownOhm * copper.perKelvin * kelvinPerHour * hours
}
