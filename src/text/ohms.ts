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

const milliohm = units[3]

const figures = 3
/** What is predicted is never known to more than two figures. */
const predictedFigures = 2
/** Digits of a reading that are kept: more than any meter shows, fewer than a number in binary trails. */
const readFigures = 6
/** Everything below one ohm is said in milliohms, down to a tenth of one. */
const keptFrom: Readonly<Record<OhmUnit['name'], number>> = { MΩ: 1, kΩ: 1, Ω: 1, mΩ: 0.1, µΩ: 0 }

/**
 * The unit for numbers that stand side by side: that of the largest finite one, so that they compare at a
 * glance. The choice is made after rounding: 999.9 Ω is 1 kΩ, never 1000 Ω.
 */
export function sharedOhmUnit(values: readonly (number | null)[]): OhmUnit {
  const largest = values.reduce<number>(
    (most, value) => (value !== null && Number.isFinite(value) ? Math.max(most, Math.abs(value)) : most),
    0,
  )
  return unitFor(Number(largest.toPrecision(figures)))
}

function unitFor(rounded: number): OhmUnit {
  if (rounded === 0) return units[2]
  return units.find((unit) => rounded >= unit.inOhm * keptFrom[unit.name]) ?? units[units.length - 1]
}

/**
 * Ohms with three significant figures: `31 mΩ`, `420 mΩ`, `1.8 kΩ`; infinite resistance is `no path`. Given
 * a unit that numbers share, at most four decimals, and `< 0.0001 mΩ` below that; but what is less than one ohm
 * is said in milliohms beside ohms too. The value is in ohm.
 */
export function formatOhm(ohm: number, unit: OhmUnit = sharedOhmUnit([ohm])): string {
  assert(ohm > -Infinity, 'a resistance that is not a number was to be written')
  if (ohm === Infinity) return 'no path'
  const isSmall = ohm !== 0 && unit.inOhm >= 1 && sharedOhmUnit([ohm]).inOhm < 1
  const written = isSmall ? milliohm : unit
  return `${formatIn(ohm, written)} ${written.name}`
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

/** Mean and standard deviation in one unit: `31 ± 20 mΩ`; two figures of either. */
export function formatOhmSpread(meanOhm: number, spreadOhm: number): string {
  if (!Number.isFinite(meanOhm)) return formatOhm(meanOhm)
  const mean = roundTo(meanOhm, predictedFigures)
  const unit = sharedOhmUnit([mean])
  if (!Number.isFinite(spreadOhm)) return `${formatOhm(mean, unit)}, spread unknown`
  if (spreadOhm === 0) return formatOhm(meanOhm)
  return `${formatIn(mean, unit)} ± ${formatIn(roundTo(spreadOhm, 2), unit)} ${unit.name}`
}

/** Volts per ampere have the size of ohms and are written like them: `0.8 mV`, `−2.1 V`. */
export function formatVolt(volt: number): string {
  return formatOhm(volt).replace('Ω', 'V')
}

/** A deviation, a prediction, or another number that is known roughly: two figures are all that it is worth. */
export function formatRoughOhm(ohm: number, unit?: OhmUnit): string {
  return Number.isFinite(ohm) ? formatOhm(roundTo(ohm, predictedFigures), unit) : formatOhm(ohm)
}

/** What a meter should show, with the standard deviation where there is one: `41 mΩ give or take 19 mΩ`. */
export function formatGiveOrTake(expectedOhm: number, spreadOhm: number): string {
  const isKnown = Number.isFinite(expectedOhm) && Number.isFinite(spreadOhm)
  return `${formatRoughOhm(expectedOhm)}${isKnown ? ` give or take ${formatRoughOhm(spreadOhm)}` : ''}`
}

function roundTo(value: number, digits: number): number {
  return Number(value.toPrecision(digits))
}

/**
 * What a meter showed, as it was typed: `2.15 Ω`, `30 mΩ`; or over range with the ohms that it is at least. A
 * meter that shows nothing but zeros says no more than that it is less than one of its steps.
 */
export function formatReadOhm(
  readOhm: number | null,
  atLeastOhm: number | null = null,
  stepOhm: number | null = null,
): string {
  if (readOhm === 0 && stepOhm !== null) return `below ${formatOhm(stepOhm)}`
  if (readOhm !== null) return formatTyped(readOhm)
  return atLeastOhm === null ? 'over range' : `over range (more than ${formatOhm(atLeastOhm)})`
}

function formatTyped(ohm: number): string {
  const typed = roundTo(ohm, readFigures)
  const unit = unitFor(Math.abs(typed))
  const value = roundTo(typed / unit.inOhm, readFigures)
  return `${value < 0 ? '−' : ''}${Math.abs(value)} ${unit.name}`
}

/**
 * The finest digit, in ohm, that readings show: 0.01 of 0.03, 2.15 and 0. A meter's step is this or less. Null
 * where nothing but zeros was read.
 */
export function finestStepOhm(readOhms: readonly (number | null)[]): number | null {
  const steps = readOhms.flatMap((ohm) => (ohm === null || ohm === 0 ? [] : [stepOf(ohm)]))
  return steps.length === 0 ? null : Math.min(...steps)
}

function stepOf(ohm: number): number {
  const [mantissa, exponent] = Math.abs(ohm)
    .toExponential(readFigures - 1)
    .split('e')
  const decimals = mantissa.replace(/\.?0*$/, '').replace(/^\d\.?/, '').length
  return Number(`1e${Number(exponent) - decimals}`)
}

/** Ohms added or left over, with their sign: `+12 mΩ`, `−3 mΩ`, `0 Ω`; two figures, for nobody knows more. */
export function formatSignedOhm(ohm: number): string {
  return ohm > 0 ? `+${formatRoughOhm(ohm)}` : formatRoughOhm(ohm)
}
