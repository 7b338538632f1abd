import { assert } from '../base/assert.ts'

/** The unit that a number, or several numbers side by side, are written in. */
export interface OhmUnit {
  readonly name: 'µΩ' | 'mΩ' | 'Ω' | 'kΩ' | 'MΩ'
  readonly inOhm: number
}

const units: readonly OhmUnit[] = [
  { name: 'MΩ', inOhm: 1e6 },
  { name: 'kΩ', inOhm: 1e3 },
  { name: 'Ω', inOhm: 1 },
  { name: 'mΩ', inOhm: 1e-3 },
  { name: 'µΩ', inOhm: 1e-6 },
]

const figures = 3
/** Ohms and milliohms are kept down to a tenth: 0.42 Ω and 0.8 mΩ are what a crew says. */
const keptFrom: Readonly<Record<OhmUnit['name'], number>> = { MΩ: 1, kΩ: 1, Ω: 0.1, mΩ: 0.1, µΩ: 0 }

/**
 * The unit for numbers that stand side by side: that of the largest finite one, so that they compare at a
 * glance. The choice is made after rounding: 999.9 Ω is 1 kΩ, never 1000 Ω.
 */
export function sharedOhmUnit(values: readonly (number | null)[]): OhmUnit {
  const largest = values.reduce<number>(
    (most, value) => (value !== null && Number.isFinite(value) ? Math.max(most, Math.abs(value)) : most),
    0,
  )
  if (largest === 0) return units[2]
  const rounded = Number(largest.toPrecision(figures))
  return units.find((unit) => rounded >= unit.inOhm * keptFrom[unit.name]) ?? units[units.length - 1]
}

/**
 * Ohms with three significant figures: `31 mΩ`, `0.42 Ω`, `1.8 kΩ`; infinite resistance is `no path`. Given
 * a unit that numbers share, at most four decimals, and `< 0.0001 Ω` below that. The value is in ohm.
 */
export function formatOhm(ohm: number, unit: OhmUnit = sharedOhmUnit([ohm])): string {
  assert(ohm > -Infinity, 'a resistance that is not a number was to be written')
  if (ohm === Infinity) return 'no path'
  return `${formatIn(ohm, unit)} ${unit.name}`
}

/** The number alone, for sentences and columns that name the unit once. */
export function formatIn(ohm: number, unit: OhmUnit): string {
  const value = Number((ohm / unit.inOhm).toPrecision(figures))
  const sign = value < 0 ? '−' : ''
  const magnitude = Math.abs(value)
  if (magnitude === 0) return '0'
  const rounded = Number(magnitude.toFixed(4))
  return rounded === 0 ? `${sign}< 0.0001` : `${sign}${rounded}`
}

/** Mean and standard deviation in one unit: `0.031 ± 0.02 Ω`; two figures of the deviation. */
export function formatOhmSpread(meanOhm: number, spreadOhm: number): string {
  if (!Number.isFinite(meanOhm)) return formatOhm(meanOhm)
  const unit = sharedOhmUnit([meanOhm])
  if (!Number.isFinite(spreadOhm)) return `${formatOhm(meanOhm, unit)}, spread unknown`
  if (spreadOhm === 0) return formatOhm(meanOhm, unit)
  return `${formatIn(meanOhm, unit)} ± ${formatIn(roundTo(spreadOhm, 2), unit)} ${unit.name}`
}

/** Volts per ampere have the size of ohms and are written like them: `0.8 mV`, `−2.1 V`. */
export function formatVolt(volt: number): string {
  return formatOhm(volt).replace('Ω', 'V')
}

/** A deviation, or another number that is known roughly: two figures are all that it is worth. */
export function formatRoughOhm(ohm: number, unit?: OhmUnit): string {
  return Number.isFinite(ohm) ? formatOhm(roundTo(ohm, 2), unit) : formatOhm(ohm)
}

function roundTo(value: number, digits: number): number {
  return Number(value.toPrecision(digits))
}

/** What a meter showed: ohms, or over range with the ohms that it is at least. */
export function formatReadOhm(readOhm: number | null, atLeastOhm: number | null = null): string {
  if (readOhm !== null) return formatOhm(readOhm)
  return atLeastOhm === null ? 'over range' : `over range (more than ${formatOhm(atLeastOhm)})`
}

/** Ohms added or left over, with their sign: `+12 mΩ`, `−3 mΩ`, `0 Ω`. */
export function formatSignedOhm(ohm: number): string {
  return ohm > 0 ? `+${formatOhm(ohm)}` : formatOhm(ohm)
}
