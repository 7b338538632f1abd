import type { TypedUnit } from '../pairDraft.svelte.ts'

/** A number fits where it is not below what is expected by more than this factor, nor above by more than that */
const fits = 4
/** or so many standard deviations. */
const spreads = 2
/** It is asked about where it is so many times off, and further than those, in the unit that it stands in. */
const isOff = 30

/**
 * The unit in which a bare whole number is about what is expected, while in the unit that it stands in it is far from
 * that; null where there is nothing to ask, also where the number names its unit or nothing is expected. With parts it is
 * not asked about: 2.2 is what an instrument shows in ohms.
 */
export function otherUnit(
  text: string,
  unit: TypedUnit,
  expected: { readonly expectedOhm: number; readonly spreadOhm: number } | null,
): TypedUnit | null {
  if (expected === null || !/^\d+$/.test(text.trim())) return null
  const { expectedOhm, spreadOhm } = expected
  if (!Number.isFinite(expectedOhm) || expectedOhm <= 0) return null
  const value = Number(text)
  if (value === 0) return null
  const other: TypedUnit = unit === 'Ω' ? 'mΩ' : 'Ω'
  const ohm = (as: TypedUnit) => value * (as === 'Ω' ? 1 : 0.001)
  const most = Math.max(fits * expectedOhm, expectedOhm + spreads * spreadOhm)
  const off = Math.max(ohm(unit) / expectedOhm, expectedOhm / ohm(unit))
  const isFar = off >= isOff && Math.abs(ohm(unit) - expectedOhm) > spreads * spreadOhm
  return isFar && ohm(other) >= expectedOhm / fits && ohm(other) <= most ? other : null
}
