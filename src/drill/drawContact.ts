import type { RandomStream } from '../base/random.ts'
import type { Kit } from '../model/schema/record.ts'
import { assumptions } from '../reading/assumptions.ts'
import { drillRules } from './drillRules.ts'

const { contact } = assumptions

/** What the clips of one seating add to a reading, in ohm (Infinity: they touch no metal), and whether that is poor. */
export interface Seating {
  readonly contactOhm: number
  readonly isPoor: boolean
}

/** Two sound clips: log-normal about the assumed median; nothing where the contact drops out of the reading. */
function soundOhm({ method }: Kit, random: RandomStream): number {
  const ohm = contact.medianOhm * Math.exp(contact.lnSpread * random.normal())
  return method === 'twoWire' ? ohm : 0
}

/** What a poor contact adds: over range, or above 10 Ω, or log-normal about 50 mΩ (`reading/assumptions.ts`). */
function poorOhm(random: RandomStream): number {
  const which = random.uniform()
  if (which < contact.poorOverRange) return Infinity
  if (which < contact.poorOverRange + contact.poorHigh)
    return contact.poorHighFromOhm * (contact.poorHighToOhm / contact.poorHighFromOhm) ** random.uniform()
  return contact.poorMedianOhm * Math.exp(contact.poorLnSpread * random.normal())
}

/**
 * Seats the clips: poor once in twenty, sound for sure where they were taken off and seated afresh. A poor contact of
 * four-wire clips loses the reading altogether.
 */
export function seatClips(kit: Kit, isAfresh: boolean, random: RandomStream): Seating {
  const sound = soundOhm(kit, random)
  const isPoor = random.uniform() < drillRules.poorShare && !isAfresh
  if (!isPoor) return { contactOhm: sound, isPoor: false }
  return { contactOhm: kit.method === 'twoWire' ? sound + poorOhm(random) : Infinity, isPoor: true }
}
