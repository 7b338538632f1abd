import { fail, ok, type Result } from '../../base/result.ts'
import { limits } from '../../model/limits.ts'
import type { OhmOrOver } from '../../model/schema/record.ts'

export type OhmWord = 'µΩ' | 'mΩ' | 'Ω' | 'kΩ' | 'MΩ'

const powers: Readonly<Record<OhmWord, number>> = { µΩ: -6, mΩ: -3, Ω: 0, kΩ: 3, MΩ: 6 }

/**
 * What parts decimals, and what parts thousands: `point` 12.5, `comma` 12,5; with `Thousands` the other mark groups digits also
 * where no decimals follow, as in 1,234.
 */
export type NumberMarks = 'point' | 'comma' | 'pointThousands' | 'commaThousands'

/** What is wrong with a cell: what was expected there; what was found is the cell. */
export interface CellFault {
  readonly code: 'value.wrong' | 'value.outOfRange' | 'value.missing'
  readonly expected: string
}

/** A unit of ohms in a word: `mohm`, `milliohms`, `Ω`, `kOhm`, `R`. `MOHM` may be mega or milli. */
export function unitIn(word: string): OhmWord | 'unclear' | null {
  const text = word.normalize('NFKC').replace(/[\u2126\u03c9]/g, 'Ω')
  const m = /^(micro|milli|kilo|mega|meg|[uµμmkKM])?(?:Ω|ohms?|R)$/iu.exec(text)
  if (!m || (/r$/i.test(text) && text !== 'R')) return null
  const prefix = m[1] ?? ''
  if (prefix === '') return 'Ω'
  if (/^(micro|u|µ|μ)$/iu.test(prefix)) return 'µΩ'
  if (/^(kilo|k)$/i.test(prefix)) return 'kΩ'
  if (/^meg/i.test(prefix)) return 'MΩ'
  if (/^milli$/i.test(prefix) || prefix === 'm') return 'mΩ'
  return /^MOHMS?$/.test(text) ? 'unclear' : 'MΩ'
}

const shape = /^([<>≥]|>=)?\s*([+\-−–]?[\d.,'’\s\u00a0\u202f\u2009]*\d[.,]?(?:e[+\-−]?\d{1,3})?)\s*(\D*)$/iu
const overWords =
  /^(?:over(?:[\s-]*(?:range|flow|load))?|overrange|o\.?\s*l\.?|0l|o\.?r\.?|∞|inf(?:inite|inity)?|out of range)$/i

/** Whether a cell says that the instrument showed no value. */
export function saysOver(cell: string): boolean {
  return overWords.test(cell.trim()) || /^(?:[>≥]|>=)/.test(cell.trim())
}

export interface OhmReader {
  readonly marks: NumberMarks | null
  /** Unit of a bare number; null where nothing says it. */
  readonly unit: OhmWord | null
}

/**
 * Ohms of a cell: a number with or without a unit, `> 200`, `OL`. Nothing is guessed: a mark that may be decimal or group
 * thousands, or a number without a unit, is a fault until somebody says which. Over range without a number is that
 * of the instrument.
 */
export function readOhms(cell: string, reader: OhmReader, kitMostOhm: number): Result<OhmOrOver, CellFault> {
  const text = cell.trim().replace(/^'/, '')
  if (overWords.test(text)) return ok({ form: 'over', atLeastOhm: kitMostOhm })
  const found = shape.exec(text)
  if (!found) return fail({ code: 'value.wrong', expected: 'ohms such as 0.03, 30 mΩ or OL' })
  const [, relation, digits, suffix] = found
  if (relation === '<') {
    return fail({ code: 'value.wrong', expected: 'a value; “less than” is not one (put in what was shown)' })
  }
  const unit = suffix.trim() === '' ? reader.unit : unitOfSuffix(suffix.trim())
  if (unit === null) {
    const isBare = suffix.trim() === ''
    const expected = isBare
      ? 'a unit beside the value, in its heading, or chosen for the list'
      : 'Ω, mΩ, µΩ, kΩ or MΩ after the value'
    return fail({ code: 'value.wrong', expected })
  }
  if (unit === 'unclear')
    return fail({ code: 'value.wrong', expected: 'mohm for milliohms or Mohm for megohms' })
  const plain = plainDigits(digits, reader.marks)
  if (plain === null) return fail({ code: 'value.wrong', expected: markWords(digits, reader.marks) })
  // one conversion from decimal, so that 31 mΩ is the double nearest to 0.031
  const [mantissa, exponent = '0'] = plain.toLowerCase().split('e')
  const ohm = Number(`${mantissa}e${Number(exponent) + powers[unit]}`)
  if (!Number.isFinite(ohm) || ohm > limits.readingOhm) {
    return fail({ code: 'value.outOfRange', expected: 'at most 1000 MΩ' })
  }
  if (ohm < 0) return fail({ code: 'value.outOfRange', expected: 'no less than zero ohms' })
  if (relation === undefined) return ok({ form: 'ohm', ohm: ohm + 0 })
  if (ohm === 0) return fail({ code: 'value.outOfRange', expected: 'over range above more than zero ohms' })
  return ok({ form: 'over', atLeastOhm: ohm })
}

/** As on the display of a meter, a prefix may stand alone. */
function unitOfSuffix(suffix: string): OhmWord | 'unclear' | null {
  const alone: Readonly<Record<string, OhmWord>> = {
    u: 'µΩ',
    µ: 'µΩ',
    μ: 'µΩ',
    m: 'mΩ',
    k: 'kΩ',
    K: 'kΩ',
    M: 'MΩ',
  }
  return Object.hasOwn(alone, suffix) ? alone[suffix] : unitIn(suffix.replace(/[\s-]+/g, ''))
}

function markWords(digits: string, marks: NumberMarks | null): string {
  if (marks === null) return 'a number whose marks are clear (choose what parts decimals)'
  const decimal = marks.startsWith('point') ? 'point' : 'comma'
  return /[.,]/.test(digits) ? `a number with a ${decimal} before decimals` : 'a number'
}

const wellFormed = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d{1,3})?$/i

/** A number as `Number` reads it; null where its marks do not fit, or may mean two things. */
export function plainDigits(digits: string, marks: NumberMarks | null): string | null {
  const text = digits
    .trim()
    .replace(/^'/, '')
    .replace(/[−–]/g, '-')
    .replace(/(?<=\d)[\s\u00a0\u202f\u2009'’](?=\d{3}(?!\d))/gu, '')
  if (/\s/.test(text)) return null
  if (!/[.,]/.test(text)) return wellFormed.test(text) ? text : null
  const used = marks ?? clearMarks(text)
  if (used === null) return null
  const [decimal, group] = used.startsWith('point') ? ['.', ','] : [',', '.']
  const sign = /^[+-]/.exec(text)?.[0] ?? ''
  const [head, ...tail] = text.slice(sign.length).split(decimal)
  if (tail.length > 1 || (tail[0] ?? '').includes(group)) return null
  const groups = head.split(group)
  const mayGroup = tail.length > 0 || used.endsWith('Thousands')
  if (groups.length > 1) {
    const isEven = /^\d{1,3}$/.test(groups[0]) && groups.slice(1).every((each) => /^\d{3}$/.test(each))
    if (!mayGroup || !isEven) return null
  }
  const plain = sign + groups.join('') + (tail.length > 0 ? `.${tail[0]}` : '')
  return wellFormed.test(plain) ? plain : null
}

/** What the marks of one number mean, where they can mean one thing only. */
export function clearMarks(digits: string): NumberMarks | null {
  const text = digits.trim().replace(/^[+\-−–>≥='\s]+/, '')
  const m = /^([\d.,\s'’]*)/u.exec(text)
  const number = (m?.[1] ?? '').trim()
  const points = number.split('.').length - 1
  const commas = number.split(',').length - 1
  if (points > 0 && commas > 0) return number.lastIndexOf('.') > number.lastIndexOf(',') ? 'point' : 'comma'
  if (points + commas === 0) return null
  const mark = points > 0 ? '.' : ','
  if (points + commas > 1) return mark === '.' ? 'commaThousands' : 'pointThousands'
  // three digits after a whole number of one to three may be thousands: 1,234
  if (new RegExp(`^[1-9]\\d{0,2}\\${mark}\\d{3}$`).test(number)) return null
  return mark === '.' ? 'point' : 'comma'
}

/**
 * What the cells say of marks: null where some may mean two things and none decides, or where they contradict each
 * other. A list without marks needs no choice and is `point`.
 */
export function guessMarks(cells: Iterable<string>): NumberMarks | null {
  const seen = new Set<NumberMarks>()
  let hasUnclear = false
  for (const cell of cells) {
    if (!/\d/.test(cell) || !/[.,]/.test(cell)) continue
    const clear = clearMarks(cell)
    if (clear === null) hasUnclear = true
    else seen.add(clear)
  }
  const decimal = new Set([...seen].map((marks) => marks.slice(0, 5)))
  if (decimal.size > 1) return null
  if (seen.size === 0) return hasUnclear ? null : 'point'
  const grouped = [...seen].find((marks) => marks.endsWith('Thousands'))
  return grouped ?? [...seen][0]
}
