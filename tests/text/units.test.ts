import { expect, it, describe } from 'vitest'
import {
  finestStepOhm,
  formatGiveOrTake,
  formatOhm,
  formatOhmSpread,
  formatReadOhm,
  formatRoughOhm,
  formatVolt,
  formatSignedOhm,
  sharedOhmUnit,
} from '../../src/text/ohms.ts'
import {
  formatBits,
  formatChance,
  formatCount,
  formatCounted,
  formatExpected,
  formatLength,
  formatPerAmpere,
  formatShare,
  inWords,
  ordinal,
} from '../../src/text/units.ts'

describe('ohms', () => {
  it.each([
    [0, '0 Ω'],
    [3e-8, '0.03 µΩ'],
    [5e-5, '50 µΩ'],
    [0.0008, '0.8 mΩ'],
    [0.0000999, '99.9 µΩ'],
    [0.00009999, '0.1 mΩ'],
    [0.031249, '31.2 mΩ'],
    [0.0999, '99.9 mΩ'],
    [0.09996, '100 mΩ'],
    [0.42, '420 mΩ'],
    [0.9994, '999 mΩ'],
    [0.9996, '1 Ω'],
    [1.8, '1.8 Ω'],
    [999.4, '999 Ω'],
    [999.6, '1 kΩ'],
    [1800, '1.8 kΩ'],
    [2.5e6, '2.5 MΩ'],
    [Infinity, 'no path'],
    [-0.003, '−3 mΩ'],
  ])('%d Ω is written %s', (ohm, text) => {
    expect(formatOhm(ohm)).toBe(text)
  })

  it('very small values are not written as nothing', () => {
    expect(formatOhm(1e-14)).toBe('< 0.0001 µΩ')
    expect(formatOhm(1e-6, sharedOhmUnit([1.8, 1e-6]))).toBe('0.001 mΩ')
    expect(formatOhm(1e-8, sharedOhmUnit([1.8, 1e-8]))).toBe('< 0.0001 mΩ')
  })

  it('side by side, all take the unit of the largest finite one, but what is below one ohm is in milliohms', () => {
    const unit = sharedOhmUnit([0.03, 1.8, Infinity, null])
    expect(unit.name).toBe('Ω')
    expect(formatOhm(0.03, unit)).toBe('30 mΩ')
    expect(formatOhm(0, unit)).toBe('0 Ω')
    expect(sharedOhmUnit([0.0312, 0.001]).name).toBe('mΩ')
    expect(formatOhm(20, sharedOhmUnit([20, 4000]))).toBe('0.02 kΩ')
  })

  it('a value that is not a number is a bug, never a text', () => {
    expect(() => formatOhm(NaN)).toThrow(/Internal error/)
    expect(() => formatOhm(-Infinity)).toThrow(/Internal error/)
  })

  it('mean and spread share a unit; each has two figures', () => {
    expect(formatOhmSpread(0.0312, 0.0213)).toBe('31 ± 21 mΩ')
    expect(formatOhmSpread(0.997, 0.0213)).toBe('1 ± 0.021 Ω')
    expect(formatOhmSpread(1.8, 0.00001)).toBe('1.8 ± < 0.0001 Ω')
    expect(formatOhmSpread(1.8, 0)).toBe('1.8 Ω')
    expect(formatOhmSpread(Infinity, Infinity)).toBe('no path')
    expect(formatOhmSpread(2, Infinity)).toBe('2 Ω, spread unknown')
  })

  it('predictions have two figures, and so has what they may be off by', () => {
    expect(formatGiveOrTake(0.0408, 0.0191)).toBe('41 mΩ give or take 19 mΩ')
    expect(formatGiveOrTake(2.6369, 0.0196)).toBe('2.6 Ω give or take 20 mΩ')
    expect(formatGiveOrTake(2.6369, Infinity)).toBe('2.6 Ω')
    expect(formatGiveOrTake(Infinity, Infinity)).toBe('no path')
  })

  it.each([
    [0.4, '400 mΩ'],
    [0.03, '30 mΩ'],
    [0.0305, '30.5 mΩ'],
    [0.1 + 0.2, '300 mΩ'],
    [2.15, '2.15 Ω'],
    [12.34, '12.34 Ω'],
    [1999, '1.999 kΩ'],
    [0, '0 Ω'],
  ])('a reading of %d Ω keeps the digits that were typed: %s', (ohm, text) => {
    expect(formatReadOhm(ohm)).toBe(text)
  })

  it('nothing but zeros says no more than less than one step of the meter', () => {
    expect(formatReadOhm(0, null, 0.01)).toBe('below 10 mΩ')
    expect(formatReadOhm(0.01, null, 0.01)).toBe('10 mΩ')
    expect(finestStepOhm([0, 0.03, 2.15, null])).toBe(0.01)
    expect(finestStepOhm([120, 0, 0.5])).toBe(0.1)
    expect(finestStepOhm([0.1 + 0.2])).toBe(0.1)
    expect(finestStepOhm([0, null])).toBeNull()
  })

  it('over range, and signed offsets', () => {
    expect(formatReadOhm(null)).toBe('over range')
    expect(formatReadOhm(null, 1999)).toBe('over range (more than 2 kΩ)')
    expect(formatSignedOhm(0.01249)).toBe('+12 mΩ')
    expect(formatSignedOhm(-0.003)).toBe('−3 mΩ')
    expect(formatVolt(-0.0008)).toBe('−0.8 mV')
    expect(formatRoughOhm(0.01949)).toBe('19 mΩ')
    expect(formatRoughOhm(Infinity)).toBe('no path')
  })
})

describe('chances and shares', () => {
  it('a chance is never written as certainty', () => {
    expect([0, 1e-12, 0.0099].map(formatChance)).toEqual(['< 1 %', '< 1 %', '< 1 %'])
    expect([1, 0.996, 0.9901].map(formatChance)).toEqual(['> 99 %', '> 99 %', '> 99 %'])
    expect([0.01, 0.5, 0.985, 0.99].map(formatChance)).toEqual(['1 %', '50 %', '99 %', '99 %'])
    expect(() => formatChance(1.5)).toThrow()
    expect(() => formatChance(NaN)).toThrow()
  })

  it('a share is written as all or nothing only when it is', () => {
    expect([0, 0.0001, 0.004, 0.31, 0.999, 1].map(formatShare)).toEqual([
      '0 %',
      '< 0.1 %',
      '0.4 %',
      '31 %',
      '> 99 %',
      '100 %',
    ])
  })

  it('bits', () => {
    expect([0.01, 1.02, -9.2, 33.7, -724].map(formatBits)).toEqual([
      'less than 0.1 bits',
      '1 bit',
      '9.2 bits',
      '34 bits',
      'more than 100 bits',
    ])
  })
})

describe('counts, lengths, currents, lists', () => {
  it('counts', () => {
    expect([7, 4800, 12480, 1234567].map(formatCount)).toEqual(['7', '4800', '12,480', '1,234,567'])
    expect(formatCounted(1, 'joint')).toBe('1 joint')
    expect(formatCounted(2, 'address', 'addresses')).toBe('2 addresses')
    expect([0, 0.001, 0.42, 3.14159, 27.4].map(formatExpected)).toEqual(['0', '< 0.01', '0.42', '3.1', '27'])
  })

  it('lengths in the units of the site', () => {
    expect(formatLength(0.04, 'metric')).toBe('40 mm')
    expect(formatLength(12.54, 'metric')).toBe('12.5 m')
    expect(formatLength(0.3048, 'us')).toBe('12 in')
    expect(formatLength(3.048, 'us')).toBe('10 ft')
  })

  it('currents keep small values apart from none', () => {
    expect([0, 0.5, -0.25, 1e-9, -1e-9].map(formatPerAmpere)).toEqual([
      '0.0000',
      '0.5000',
      '−0.2500',
      '< 0.0001',
      '−< 0.0001',
    ])
  })

  it('ordinals and lists', () => {
    expect([1, 2, 3, 4, 11, 12, 13, 21, 102, 111, 0].map(ordinal)).toEqual(
      '1st 2nd 3rd 4th 11th 12th 13th 21st 102nd 111th 0th'.split(' '),
    )
    expect([[], ['a'], ['a', 'b'], ['a', 'b', 'c']].map(inWords)).toEqual(['', 'a', 'a and b', 'a, b and c'])
  })
})
