import type { QuantityTrouble, QuantityUnit } from './parseQuantity.ts'

export interface QuantityLimits {
  readonly least?: number
  readonly most?: number
}

/** What is wrong with what was typed and what would be right, as a sentence under the field. */
export function quantityTroubleText(trouble: QuantityTrouble, unit?: QuantityUnit): string {
  switch (trouble.code) {
    case 'empty':
      return 'A number is needed here.'
    case 'notANumber':
      return `“${trouble.text}” is not a number. Type digits, with a comma or a point as the decimal mark.`
    case 'twoMarks':
      return `“${trouble.text}” has more than one comma or point. Type only the decimal mark.`
    case 'unit':
      return unit
        ? `“${trouble.text}” is not a unit for this field. ${unitsText(unit)}`
        : `Type the number alone, without “${trouble.text}”.`
    case 'tooLarge':
      return `“${trouble.text}” is larger than can be worked with.`
  }
}

function unitsText({ symbol, takesPrefix = false }: QuantityUnit): string {
  return takesPrefix
    ? `Type ${symbol}, or µ, m, k or M for µ${symbol}, m${symbol}, k${symbol} or M${symbol}.`
    : `Type ${symbol}, or nothing.`
}

/** A sentence when the value lies outside its limits, else null. */
export function limitText(
  value: number,
  { least, most }: QuantityLimits,
  unit?: QuantityUnit,
): string | null {
  const said = (limit: number) => (unit ? `${quantityDraft(limit)} ${unit.symbol}` : quantityDraft(limit))
  if (least !== undefined && value < least) return `It cannot be less than ${said(least)}.`
  if (most !== undefined && value > most) return `It cannot be more than ${said(most)}.`
  return null
}

/** A number as it stands in a field: short, without digits that come from binary rounding. */
export function quantityDraft(value: number): string {
  const short = Number(value.toPrecision(12))
  const text = String(short)
  return text.includes('e-') && Math.abs(short) >= 1e-9 ? short.toFixed(15).replace(/0+$/, '') : text
}
