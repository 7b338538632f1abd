import type { RandomStream } from '../../src/base/random.ts'
import type { Kit, Spot } from '../../src/model/schema/record.ts'
import { contact } from './assumedValues.ts'

/** What two clips add, in ohm; Infinity where they do not touch metal at all. */
export function drawSoundContact(random: RandomStream): number {
  return contact.medianOhm * Math.exp(contact.lnSpread * random.normal())
}

export function drawPoorContact(random: RandomStream): number {
  const which = random.uniform()
  if (which < contact.highShare / 2) return Infinity
  if (which < contact.highShare) {
    return contact.highFromOhm * (contact.highToOhm / contact.highFromOhm) ** random.uniform()
  }
  return contact.poorMedianOhm * Math.exp(contact.poorLnSpread * random.normal())
}

/** Chance that the contact of a two-wire reading is poor: the worse of its two surfaces counts. */
export function poorRate(spots: readonly Spot[], isSecondTry: boolean): number {
  const first = Math.max(...spots.map(({ surface }) => contact.poorRate[surface]))
  return isSecondTry ? Math.min(first, contact.poorAgainRate) : first
}

/** Contact of one reading, poor at the rate of its spots. */
export function drawContact(
  method: Kit['method'],
  spots: readonly Spot[],
  isSecondTry: boolean,
  random: RandomStream,
): number {
  if (method !== 'twoWire') return random.uniform() < contact.poorFourWireRate ? Infinity : 0
  const isPoor = random.uniform() < poorRate(spots, isSecondTry)
  return drawSoundContact(random) + (isPoor ? drawPoorContact(random) : 0)
}
