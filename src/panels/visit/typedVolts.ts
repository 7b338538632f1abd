import { fail, ok, type Result } from '../../base/result.ts'
import { voltsTexts } from '../../text/visitText.ts'
import type { VoltsReading } from '../../text/volts.ts'
import { parseQuantity, type QuantityUnit } from '../../ui/parseQuantity.ts'

export const voltUnit: QuantityUnit = { symbol: 'V', names: ['volt', 'volts'], takesPrefix: true }

/** The four fields, in the order in which they are read. */
export const voltsPlaces = ['clipsDirect', 'clipsAlternating', 'earthDirect', 'earthAlternating'] as const
export type VoltsPlace = (typeof voltsPlaces)[number]
export type TypedVolts = Readonly<Record<VoltsPlace, string>>

export const nothingTyped: TypedVolts = {
  clipsDirect: '',
  clipsAlternating: '',
  earthDirect: '',
  earthAlternating: '',
}

/** What the meter shows where it shows nought everywhere. */
export const allZero: TypedVolts = {
  clipsDirect: '0.0',
  clipsAlternating: '0.0',
  earthDirect: '0.0',
  earthAlternating: '0.0',
}

const most = 100_000

/** What was typed in one field, in volts; a sentence where it cannot be entered. */
function readOne(place: VoltsPlace, text: string): Result<number, string> {
  const read = parseQuantity(text, voltUnit)
  if (!read.ok) return fail(voltsTexts.needsNumber)
  if (place.endsWith('Alternating') && read.value < 0) return fail(voltsTexts.notNegative)
  return Math.abs(read.value) > most ? fail(voltsTexts.tooMany) : ok(read.value)
}

/** All four, or what is wrong in each field: nothing is entered of a check that is not whole. */
export function readTypedVolts(
  typed: TypedVolts,
): Result<VoltsReading, Readonly<Partial<Record<VoltsPlace, string>>>> {
  const troubles: Partial<Record<VoltsPlace, string>> = {}
  const volts = { clipsDirect: 0, clipsAlternating: 0, earthDirect: 0, earthAlternating: 0 }
  for (const place of voltsPlaces) {
    const read = readOne(place, typed[place])
    if (read.ok) volts[place] = read.value
    else troubles[place] = read.error
  }
  if (Object.keys(troubles).length > 0) return fail(troubles)
  return ok({
    clips: { directV: volts.clipsDirect, alternatingV: volts.clipsAlternating },
    toEarth: { directV: volts.earthDirect, alternatingV: volts.earthAlternating },
  })
}
