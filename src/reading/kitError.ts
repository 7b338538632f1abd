import type { Kit } from '../model/schema/record.ts'

const rectangular = 1 / Math.sqrt(3)

/**
 * Standard deviation that an instrument's digits add to a reading, in ohm: limits of ±digits × resolution
 * taken as a rectangular distribution, and rounding to the resolution.
 * Source: JCGM 100:2008 (GUM) 4.3.7 and F.2.2.1.
 */
export function digitsSdOhm(kit: Kit): number {
  const limit = kit.digits * kit.resolutionOhm
  const rounding = kit.resolutionOhm / 2
  return Math.hypot(limit * rectangular, rounding * rectangular)
}

/**
 * Standard deviation of an instrument's gain, as a share of the reading. One and the same gain error runs
 * through all readings of one instrument, so that it is no help against it to repeat a reading.
 */
export function gainSd(kit: Kit): number {
  return kit.gainError * rectangular
}
