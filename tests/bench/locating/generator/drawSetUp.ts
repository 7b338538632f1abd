import type { RandomStream } from '../../../../src/base/random.ts'
import type { Lead } from '../../../../src/model/schema/record.ts'
import { copper, mostDriftKelvinPerHour } from '../../../generator/assumedValues.ts'
import { drawLeadOffset, leadOhm, type LeadOffset } from '../../../generator/drawLead.ts'
import { assumed } from './assumed.ts'

export type LeadState = 'nulled' | 'notNulled' | 'overNulled'

/** What a crew does with its leads at a set-up. */
export function drawLeadState(random: RandomStream): LeadState {
  const which = random.uniform()
  if (which < assumed.notNulledRate) return 'notNulled'
  return which < assumed.notNulledRate + assumed.overNulledRate ? 'overNulled' : 'nulled'
}

/** Ohms that a bad short leaves out of every reading that follows. */
export function drawOverNulledOhm(random: RandomStream): number {
  const { overNulledFromOhm: from, overNulledToOhm: to } = assumed
  return from * (to / from) ** random.uniform()
}

/** The offset of the readings after a nulling; over-nulled, a drift and a lack of ohms. */
export function drawOffset(
  lead: Lead,
  ambientC: number,
  state: 'nulled' | 'overNulled' | 'neverNulled',
  random: RandomStream,
): LeadOffset {
  if (state !== 'overNulled') return drawLeadOffset(lead, ambientC, state === 'nulled', random)
  const lacksOhm = drawOverNulledOhm(random)
  const kelvinPerHour = mostDriftKelvinPerHour * (2 * random.uniform() - 1)
  const perHour = leadOhm(lead, ambientC) * copper.perKelvin * kelvinPerHour
  return (hours) => -lacksOhm + perHour * hours
}

/** At which of so many readings the lead breaks; Infinity if at none. */
export function drawBreak(readings: number, random: RandomStream): number {
  return random.uniform() < assumed.brokenLeadRate ? random.integer(readings) : Infinity
}
