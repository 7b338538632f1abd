import type { RandomStream } from '../base/random.ts'
import type { Kit, OhmOrOver } from '../model/schema/record.ts'

/** Rounds to the resolution as a display does; the last digits of the division are no part of it. */
function rounded(resolutionOhm: number, ohm: number): number {
  return Number((Math.round(ohm / resolutionOhm) * resolutionOhm).toPrecision(12))
}

/**
 * What an instrument shows of so many ohms at its terminals: times its gain, an error anywhere within ± digits ×
 * resolution (the bound of its data sheet as a rectangular distribution, JCGM 100:2008 4.3.7), rounded; nothing below 0,
 * over range above its end.
 */
export function showOhm(kit: Kit, gain: number, ohm: number, random: RandomStream): OhmOrOver {
  const digitsOhm = kit.digits * kit.resolutionOhm * (2 * random.uniform() - 1)
  const shown = rounded(kit.resolutionOhm, Math.max(0, gain * ohm + digitsOhm))
  return shown <= kit.mostOhm ? { form: 'ohm', ohm: shown } : { form: 'over', atLeastOhm: kit.mostOhm }
}
