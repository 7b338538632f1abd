import type { FaultAnswer } from './faultAnswers.ts'

/** Less of a fault’s current through soil is rounding. */
const leastShare = 1e-9

/** Whether a fault's current passes through soil, so that the ground has volts to remote earth. */
export function passesThroughSoil({
  throughEarthA,
  faultA,
  voltsTo,
}: Pick<FaultAnswer, 'throughEarthA' | 'faultA' | 'voltsTo'>): boolean {
  return voltsTo === 'remoteEarth' && throughEarthA > leastShare * faultA && throughEarthA > 0
}
