import type { TypedUnit } from '../pairDraft.svelte.ts'

/** A number that fits so much better in the other unit is asked about: within this factor of what is expected. */
const fits = 4
/** And so many times off, either way, in the unit that it stands in. */
const isOff = 30

/**
 * The unit in which a bare number is about what is expected, while in the unit that it stands in it is far from that; null
 * where there is nothing to ask, also where the number names its unit or nothing is expected.
 */
export function otherUnit(text: string, unit: TypedUnit, expectedOhm: number | null): TypedUnit | null {
  if (expectedOhm === null || !Number.isFinite(expectedOhm) || expectedOhm <= 0) return null
  if (!/^\d+(?:[.,]\d+)?$/.test(text.trim())) return null
  const ohm = (in_: TypedUnit) => Number(text.trim().replace(',', '.')) * (in_ === 'Ω' ? 1 : 0.001)
  const other: TypedUnit = unit === 'Ω' ? 'mΩ' : 'Ω'
  const times = (in_: TypedUnit) => Math.max(ohm(in_) / expectedOhm, expectedOhm / ohm(in_))
  return times(other) <= fits && times(unit) >= isOff ? other : null
}
