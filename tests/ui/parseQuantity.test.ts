import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ohmUnit, parseQuantity } from '../../src/ui/parseQuantity.ts'
import { limitText, quantityDraft, quantityTroubleText } from '../../src/ui/quantityText.ts'

const metre = { symbol: 'm', names: ['metre', 'metres'] }
const metreWithPrefix = { ...metre, takesPrefix: true }

describe('a number of ohms as it is typed', () => {
  it.each([
    ['1.64', 1.64],
    ['1,64', 1.64],
    ['  0,031 ', 0.031],
    ['.5', 0.5],
    [',5', 0.5],
    ['5.', 5],
    ['1,234', 1.234],
    ['007', 7],
    ['+2', 2],
    ['-2', -2],
    ['−2', -2],
    ['-0', 0],
    ['1e-3', 0.001],
    ['1,5E2', 150],
    ['1e−3', 0.001],
    ['31m', 0.031],
    ['31 m', 0.031],
    ['31 mΩ', 0.031],
    ['31 m\u2126', 0.031],
    ['400 mohm', 0.4],
    ['400 mOhms', 0.4],
    ['250 µ', 250e-6],
    ['250 \u00b5Ω', 250e-6],
    ['250 \u03bcΩ', 250e-6],
    ['250 uohm', 250e-6],
    ['2k', 2000],
    ['2 KΩ', 2000],
    ['1.5 M', 1.5e6],
    ['1,5 MΩ', 1.5e6],
    ['12 Ω', 12],
    ['12 \u2126', 12],
    ['12 ohm', 12],
    ['12 Ohms', 12],
    ['12R', 12],
    ['0.1\u00a0Ω', 0.1],
  ])('%j is %d', (text, ohm) => {
    expect(parseQuantity(text, ohmUnit)).toEqual({ ok: true, value: ohm })
  })

  it.each([
    ['', 'empty'],
    ['   ', 'empty'],
    ['1.234,5', 'twoMarks'],
    ['1,234.5', 'twoMarks'],
    ['1.2.3', 'twoMarks'],
    ['OL', 'notANumber'],
    ['> 2', 'notANumber'],
    ['.', 'notANumber'],
    ['-', 'notANumber'],
    ['1 2', 'notANumber'],
    ['1 Ω 2', 'notANumber'],
    ['0x10', 'notANumber'],
    ['NaN', 'notANumber'],
    ['Infinity', 'notANumber'],
    ['3 V', 'unit'],
    ['3 mV', 'unit'],
    ['3 mm', 'unit'],
    ['3 n', 'unit'],
    ['3 constructor', 'unit'],
    ['1e308 k', 'tooLarge'],
  ])('%j is refused: %s', (text, code) => {
    const read = parseQuantity(text, ohmUnit)
    expect(read.ok ? read.value : read.error.code).toBe(code)
  })

  it('is what was written, whatever the mark and the prefix', () => {
    const powers = { '': 0, m: -3, µ: -6, k: 3, M: 6 }
    fc.assert(
      fc.property(
        fc.nat({ max: 9_999_999 }),
        fc.nat({ max: 6 }),
        fc.constantFrom('.', ','),
        fc.constantFrom(...(Object.keys(powers) as (keyof typeof powers)[])),
        (whole, decimals, mark, prefix) => {
          const digits = String(whole).padStart(decimals + 1, '0')
          const at = digits.length - decimals
          const text = `${digits.slice(0, at)}${decimals > 0 ? mark : ''}${digits.slice(at)} ${prefix}Ω`
          const exact = Number(`${whole}e${powers[prefix] - decimals}`)
          expect(parseQuantity(text, ohmUnit)).toEqual({ ok: true, value: exact })
        },
      ),
      { seed: 12, numRuns: 500 },
    )
  })
})

describe('other units', () => {
  it('the unit goes before a prefix of the same letter', () => {
    expect(parseQuantity('5 m', metreWithPrefix)).toEqual({ ok: true, value: 5 })
    expect(parseQuantity('5 mm', metreWithPrefix)).toEqual({ ok: true, value: 0.005 })
    expect(parseQuantity('5 km', metreWithPrefix)).toEqual({ ok: true, value: 5000 })
  })

  it('no prefix where none is taken, no unit where there is none', () => {
    expect(parseQuantity('5 metres', metre)).toEqual({ ok: true, value: 5 })
    expect(parseQuantity('5 k', metre)).toEqual({ ok: false, error: { code: 'unit', text: 'k' } })
    expect(parseQuantity('5')).toEqual({ ok: true, value: 5 })
    expect(parseQuantity('5 m')).toEqual({ ok: false, error: { code: 'unit', text: 'm' } })
  })
})

describe('what is said', () => {
  it('names what was typed and what would be right', () => {
    const said = (text: string, unit = ohmUnit) => {
      const read = parseQuantity(text, unit)
      return read.ok ? 'no trouble' : quantityTroubleText(read.error, unit)
    }
    expect(said('OL')).toBe('“OL” is not a number. Type digits, with a comma or a point as the decimal mark.')
    expect(said('3 V')).toContain('“V” is not a unit for this field. Type Ω, or µ, m, k or M for µΩ')
    expect(said('3 V', metre)).toContain('Type m, or nothing.')
    expect(said('1.234,5')).toContain('“1.234,5” has more than one comma or point.')
    expect(said('')).toBe('A number is needed here.')
  })

  it('limits', () => {
    expect(limitText(-0.1, { least: 0 }, ohmUnit)).toBe('It cannot be less than 0 Ω.')
    expect(limitText(2e6, { most: 1e6 })).toBe('It cannot be more than 1000000.')
    expect(limitText(0, { least: 0, most: 0 })).toBeNull()
  })

  it('a number in a field reads back as itself, in plain digits where a person would use them', () => {
    expect(quantityDraft(0.1 + 0.2)).toBe('0.3')
    expect(quantityDraft(0.00000025)).toBe('0.00000025')
    expect(quantityDraft(1640)).toBe('1640')
    fc.assert(
      fc.property(fc.double({ min: 1e-8, max: 1e12, noNaN: true }), (value) => {
        const read = parseQuantity(quantityDraft(value), ohmUnit)
        expect(read.ok && Math.abs(read.value / value - 1)).toBeLessThan(1e-6)
      }),
      { seed: 5, numRuns: 300 },
    )
  })
})
