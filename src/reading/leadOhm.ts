import type { Lead } from '../model/schema/record.ts'
import { conductorOhm } from '../network/conductorOhm.ts'

/** A lead's own resistance at a temperature, in ohm: what it adds to a two-wire reading when not nulled. */
export function leadOhm(lead: Lead, temperatureC: number): number {
  return conductorOhm({
    materialId: lead.material,
    areaMm2: lead.areaMm2,
    lengthM: lead.lengthM,
    temperatureC,
  })
}
