import { circularMilMm2 } from '../../model/conductorSizes.ts'
import type { Units } from '../../text/units.ts'

/** One unit of a quantity: how it is written, and how it becomes the unit that the site is kept in. */
export interface DimensionUnit {
  readonly symbol: string
  /** Other ways to write it. */
  readonly names: readonly string[]
  readonly toBase: (value: number) => number
  readonly fromBase: (value: number) => number
  /** Decimals that a value in this unit is shown with at most. */
  readonly decimals: number
}

/** A quantity as a field shows it: first the unit that is shown and that a bare number is in. */
export interface Dimension {
  readonly units: readonly [DimensionUnit, ...DimensionUnit[]]
  /** Feet and inches, and fractions of an inch, are read. */
  readonly isLength: boolean
  /** m is milli and M is mega: letter case counts. */
  readonly isCaseKept: boolean
  readonly least?: { readonly value: number; readonly isAllowed: boolean }
}

function scaled(
  symbol: string,
  inBase: number,
  decimals: number,
  names: readonly string[] = [],
): DimensionUnit {
  return {
    symbol,
    names,
    decimals,
    // 12 ft is 3.6576 m, without the digits that come from binary rounding
    toBase: (value) => Number((value * inBase).toPrecision(13)),
    fromBase: (value) => value / inBase,
  }
}

const inchM = 0.0254
const footM = 12 * inchM

const metre = scaled('m', 1, 3, ['metre', 'metres', 'meter', 'meters'])
const centimetre = scaled('cm', 0.01, 1)
const millimetre = scaled('mm', 0.001, 1)
const foot = scaled('ft', footM, 3, ['feet', 'foot', "'", '′', '’'])
const inch = scaled('in', inchM, 3, ['inch', 'inches', '"', '″', '”'])
const squareMillimetre = scaled('mm²', 1, 2, ['mm2', 'mm^2', 'sq mm', 'sqmm'])
const thousandMils = scaled('kcmil', 1000 * circularMilMm2, 2, ['mcm'])
const squareMetre = scaled('m²', 1, 3, ['m2', 'm^2', 'sq m'])
const squareFoot = scaled('ft²', footM * footM, 3, ['ft2', 'ft^2', 'sq ft'])
const celsius = scaled('°C', 1, 1, ['C', 'c', '°'])
const fahrenheit: DimensionUnit = {
  symbol: '°F',
  names: ['F', 'f'],
  decimals: 1,
  toBase: (value) => ((value - 32) * 5) / 9,
  fromBase: (value) => (value * 9) / 5 + 32,
}
const ohmMetre = scaled('Ω·m', 1, 2, ['Ωm', 'Ω m', 'ohm-m', 'ohm m', 'ohmm', 'ohm-metre', 'ohm-meter'])
const ohmCentimetre = scaled('Ω·cm', 0.01, 0, ['Ωcm', 'Ω cm', 'ohm-cm', 'ohm cm', 'ohmcm'])

const micro = scaled('µΩ', 1e-6, 3, ['μΩ', 'uΩ', 'µohm', 'uohm', 'µ', 'μ', 'u'])
const milli = scaled('mΩ', 1e-3, 4, ['mohm', 'mohms', 'm'])
const whole = scaled('Ω', 1, 6, ['ohm', 'ohms', 'Ohm', 'R'])
const kilo = scaled('kΩ', 1e3, 4, ['kohm', 'kohms', 'k', 'K'])
const mega = scaled('MΩ', 1e6, 4, ['Mohm', 'M'])

/** How far joints of a kind scatter: a factor on the screen, its natural logarithm in the site. */
const factor: DimensionUnit = {
  symbol: '×',
  names: ['x'],
  decimals: 2,
  toBase: (value) => Math.log(value),
  fromBase: (value) => Math.exp(value),
}

function dimension(units: Dimension['units'], more: Partial<Dimension> = {}): Dimension {
  return { units, isLength: false, isCaseKept: false, ...more }
}

const positive = { least: { value: 0, isAllowed: false } }
const notNegative = { least: { value: 0, isAllowed: true } }
const long = {
  metric: [metre, millimetre, centimetre, foot, inch],
  us: [foot, inch, metre, millimetre, centimetre],
} as const
const short = {
  metric: [millimetre, centimetre, metre, inch, foot],
  us: [inch, foot, millimetre, centimetre, metre],
} as const

/** A place or a distance that may lie on either side: base metre. */
export const placeIn = (units: Units) => dimension(long[units], { isLength: true })
/** A length that has to be something: base metre. */
export const lengthIn = (units: Units) => dimension(long[units], { isLength: true, ...positive })
/** A distance that may be nothing: base metre. */
export const gapIn = (units: Units) => dimension(long[units], { isLength: true, ...notNegative })
/** Diameters and the like, in millimetres or inches: base metre. */
export const thicknessIn = (units: Units) => dimension(short[units], { isLength: true, ...positive })
/** Metal area of a conductor: base mm². */
export const conductorAreaIn = (units: Units) =>
  dimension(units === 'us' ? [thousandMils, squareMillimetre] : [squareMillimetre, thousandMils], positive)
/** Area of a plate: base m². */
export const plateAreaIn = (units: Units) =>
  dimension(units === 'us' ? [squareFoot, squareMetre] : [squareMetre, squareFoot], positive)
/** Base °C. */
export const temperatureIn = (units: Units) =>
  dimension(units === 'us' ? [fahrenheit, celsius] : [celsius, fahrenheit])
/** Base Ω·m. */
export const soilDimension = dimension([ohmMetre, ohmCentimetre], positive)
/** Base Ω; a bare number is ohms. */
export const ohmDimension = dimension([whole, milli, micro, kilo, mega], { isCaseKept: true, ...positive })
/** Base Ω; a bare number is milliohms. */
export const milliohmDimension = dimension([milli, whole, micro, kilo, mega], {
  isCaseKept: true,
  ...positive,
})
const degree = scaled('°', 1, 3, ['deg', 'degrees'])
/** Base degree; either way round. */
export const angleDimension = dimension([degree])
/** Base degree of latitude or longitude: seven decimals are a centimetre. */
export const geographicDimension = dimension([{ ...degree, decimals: 7 }])
/** Base degree from 0 to below 360: 370 and -350 are 10. */
export const bearingDimension = dimension([{ ...degree, toBase: (value) => ((value % 360) + 360) % 360 }])
/** Base 1, shown in per cent. */
export const shareDimension = dimension([scaled('%', 0.01, 3, ['per cent', 'percent'])], notNegative)
/** Base natural logarithm, shown as a factor from 1 on. */
export const spreadDimension = dimension([factor], notNegative)
/** A number of things. */
export const countDimension = dimension([scaled('', 1, 0)])
/** Base volt. */
export const voltDimension = dimension([scaled('V', 1, 3, ['volt', 'volts'])], positive)
