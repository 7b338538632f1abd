import { fail, ok, type Result } from '../base/result.ts'

/** A unit as it is shown, and the other ways to write it. */
export interface QuantityUnit {
  readonly symbol: string
  readonly names?: readonly string[]
  /** Whether µ, m, k and M may stand before it, or alone in its place. */
  readonly takesPrefix?: boolean
}

export const ohmUnit: QuantityUnit = { symbol: 'Ω', names: ['ohm', 'ohms', 'R'], takesPrefix: true }

export type QuantityTrouble =
  | { readonly code: 'empty' }
  | { readonly code: 'notANumber'; readonly text: string }
  | { readonly code: 'twoMarks'; readonly text: string }
  | { readonly code: 'unit'; readonly text: string }
  | { readonly code: 'tooLarge'; readonly text: string }

/** M is mega and m is milli, as on the display of a meter: here letter case counts. */
const prefixes: Readonly<Record<string, number>> = { µ: -6, μ: -6, u: -6, m: -3, k: 3, K: 3, M: 6 }

const shape = /^([+\-−]?)(\d*)(?:[.,](\d*))?(?:e([+\-−]?\d{1,3}))?\s*(\D*)$/i

/**
 * Reads a number as it is typed in the field: comma or point as the decimal mark, then at most a prefix and a
 * unit (`1,64`, `.5 Ω`, `31 m`, `2kΩ`, `400 mohm`). A mark that groups thousands is refused rather than
 * guessed at: 1,234 is one and a bit, and 1,234.5 is an error. The value is in the unit without a prefix.
 */
export function parseQuantity(text: string, unit?: QuantityUnit): Result<number, QuantityTrouble> {
  // The sign for ohm has a code of its own beside that of the Greek letter.
  const typed = text.trim().replace('\u2126', 'Ω')
  if (typed === '') return fail({ code: 'empty' })
  if ((typed.match(/[.,]/g) ?? []).length > 1) return fail({ code: 'twoMarks', text: typed })
  const found = shape.exec(typed)
  if (!found || (found[2] === '' && !found[3])) return fail({ code: 'notANumber', text: typed })
  const [, sign, whole, part = '', exponent = '0', suffix] = found
  const power = powerOf(suffix.trim(), unit)
  if (power === null) return fail({ code: 'unit', text: suffix.trim() })
  const scale = Number(exponent.replace('−', '-')) + power
  // One conversion from decimal, so that 31 m is the double nearest to 0.031.
  const size = Number(`${whole}.${part}e${scale}`.replace(/^\./, '0.'))
  if (!Number.isFinite(size)) return fail({ code: 'tooLarge', text: typed })
  return ok(size === 0 || sign === '' || sign === '+' ? size : -size)
}

function powerOf(suffix: string, unit: QuantityUnit | undefined): number | null {
  if (suffix === '') return 0
  if (!unit) return null
  if (isNameOf(suffix, unit)) return 0
  if (!unit.takesPrefix) return null
  const power = prefixes[suffix[0]]
  const rest = suffix.slice(1).trim()
  return power !== undefined && (rest === '' || isNameOf(rest, unit)) ? power : null
}

function isNameOf(word: string, { symbol, names = [] }: QuantityUnit): boolean {
  const same = (name: string) =>
    name.length > 1 ? name.toLowerCase() === word.toLowerCase() : name === word || name === word.toUpperCase()
  return [symbol, ...names].some(same)
}
