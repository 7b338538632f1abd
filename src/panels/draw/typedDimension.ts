import { fail, ok, type Result } from '../../base/result.ts'
import { dimensionTexts } from '../../text/dimensionText.ts'
import { parseQuantity } from '../../ui/parseQuantity.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import type { Units } from '../../text/units.ts'
import { placeIn, type Dimension, type DimensionUnit } from './dimension.ts'

const feetAndInches = /^([-−]?)\s*(\d+)\s*(?:ft|feet|foot|'|′|’)\s*[,-]?\s*(.+?)\s*(?:in|inch|inches|"|″|”)$/i
const fraction = /^([-−]?)\s*(?:(\d+)[\s-]+)?(\d+)\s*[/⁄]\s*(\d+)$/

/**
 * What was typed as a quantity, in the base unit of its dimension, or a sentence on what would be right: `3.6`,
 * `12 ft`, `12' 6"`, `5/8 in`, `360 cm`. A bare number is in the unit that the field shows.
 */
export function readDimension(text: string, dimension: Dimension): Result<number, string> {
  const typed = text.trim().replace('\u2126', 'Ω')
  if (typed === '') return fail(dimensionTexts.needed)
  const read = (dimension.isLength ? readFeetAndInches(typed) : null) ?? readInUnit(typed, dimension)
  if (!read.ok) return read
  const { least } = dimension
  if (!Number.isFinite(read.value)) return fail(dimensionTexts.tooLarge)
  if (least && (read.value < least.value || (read.value === least.value && !least.isAllowed))) {
    const { symbol, fromBase } = dimension.units[0]
    return fail(
      dimensionTexts.least(`${draftIn(fromBase(least.value), 0)} ${symbol}`.trim(), least.isAllowed),
    )
  }
  return read
}

function readFeetAndInches(typed: string): Result<number, string> | null {
  const found = feetAndInches.exec(typed)
  if (!found) return null
  const inches = readNumber(found[3], true)
  if (!inches.ok || inches.value < 0) return null
  const lengthM = (Number(found[2]) * 12 + inches.value) * 0.0254
  return ok(found[1] === '' ? lengthM : -lengthM)
}

function readInUnit(typed: string, dimension: Dimension): Result<number, string> {
  const { units, isLength } = dimension
  const symbols = units.map(({ symbol }) => symbol).filter((symbol) => symbol !== '')
  const [unit, rest] = splitUnit(typed, dimension)
  const read = readNumber(rest, isLength)
  if (read.ok) return ok(unit.toBase(read.value))
  if (read.error === 'twoMarks') return fail(dimensionTexts.twoMarks(typed))
  return fail(read.error === 'tooLarge' ? dimensionTexts.tooLarge : dimensionTexts.notANumber(typed, symbols))
}

/** The unit at the end of what was typed, the longest name first, and what stands before it. */
function splitUnit(typed: string, { units, isCaseKept }: Dimension): readonly [DimensionUnit, string] {
  const names = units
    .flatMap((unit) => [unit.symbol, ...unit.names].map((name) => ({ unit, name })))
    .filter(({ name }) => name !== '')
    .sort((a, b) => b.name.length - a.name.length)
  const same = isCaseKept ? (text: string) => text : (text: string) => text.toLowerCase()
  const found = names.find(({ name }) => same(typed).endsWith(same(name)))
  return found ? [found.unit, typed.slice(0, typed.length - found.name.length).trim()] : [units[0], typed]
}

function readNumber(
  text: string,
  takesFraction: boolean,
): Result<number, 'notANumber' | 'twoMarks' | 'tooLarge'> {
  const parts = takesFraction ? fraction.exec(text) : null
  if (parts) {
    const value = Number(parts[2] ?? 0) + Number(parts[3]) / Number(parts[4])
    return Number.isFinite(value) ? ok(parts[1] === '' ? value : -value) : fail('notANumber')
  }
  const read = parseQuantity(text)
  if (read.ok) return read
  const { code } = read.error
  return fail(code === 'twoMarks' || code === 'tooLarge' ? code : 'notANumber')
}

/** A value of the site as it stands in its field, in the unit that is shown, without the unit. */
export function writeDimension(value: number, { units: [unit] }: Dimension): string {
  return draftIn(unit.fromBase(value), unit.decimals)
}

/** The same with its unit. */
export function describeDimension(value: number, dimension: Dimension): string {
  const { symbol } = dimension.units[0]
  const space = symbol === '°' || symbol === '' ? '' : ' '
  return `${writeDimension(value, dimension)}${space}${symbol}`
}

/** A place of the plan: `x 3.2 m, y −1 m`. */
export function describePlace({ x, y }: PointM, units: Units): string {
  // a number does not part from its unit at the end of a line
  const said = (value: number) =>
    describeDimension(value, placeIn(units)).replace('-', '−').replace(' ', '\u00a0')
  return `x\u00a0${said(x)}, y\u00a0${said(y)}`
}

/** Rounded to the decimals of its unit; what would round away keeps three figures. */
function draftIn(value: number, decimals: number): string {
  const rounded = Number(value.toFixed(decimals))
  const kept = rounded === 0 && value !== 0 ? Number(value.toPrecision(3)) : rounded
  return String(Object.is(kept, -0) ? 0 : kept)
}
