import type { RandomStream } from '../../src/base/random.ts'
import type { Kit, OhmOrOver } from '../../src/model/schema/record.ts'

/** An instrument as it is: with one gain error that all of its readings share. */
export interface Instrument {
  /** What it shows when this many ohms lie between its terminals. */
  read(ohm: number): OhmOrOver
}

/** Rounds to the resolution as a display does, with the digits that the display has. */
export function roundTo(resolutionOhm: number, ohm: number): number {
  return Number((Math.round(ohm / resolutionOhm) * resolutionOhm).toFixed(6))
}

/**
 * Draws an instrument within its specification: a gain error anywhere in ± gainError, and for each reading an
 * error anywhere in ± digits × resolution. It shows nothing below zero.
 */
export function drawInstrument(kit: Kit, random: RandomStream): Instrument {
  const gain = 1 + kit.gainError * (2 * random.uniform() - 1)
  return {
    read(ohm) {
      const digitsOhm = kit.digits * kit.resolutionOhm * (2 * random.uniform() - 1)
      const shown = roundTo(kit.resolutionOhm, Math.max(0, gain * ohm + digitsOhm))
      return shown > kit.mostOhm ? { form: 'over', atLeastOhm: kit.mostOhm } : { form: 'ohm', ohm: shown }
    },
  }
}
