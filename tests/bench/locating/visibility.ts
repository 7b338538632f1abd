import { riseOhm } from '../../../src/network/jointSweep.ts'
import type { TypedSite } from './typedSite.ts'

/** A fault that moves the readings by less than this, all taken together, cannot be told from nothing. */
export const leastVisible = 2

/**
 * By how many standard deviations of instrument and sound clips a bad joint moves the readings of a site, all
 * taken together, on the drawn network at its medians. Infinity where a reading goes out of all range.
 */
export function shiftOf({ prepared, readings }: TypedSite, edge: number, addedOhm: number): number {
  let sum = 0
  for (const { squared, ownSdOhm } of readings) {
    const rise = riseOhm(squared[edge], prepared.loopS[edge], addedOhm)
    sum += (rise / ownSdOhm) ** 2
  }
  return Math.sqrt(sum)
}
