import { describe, expect, it } from 'vitest'
import {
  bearingDimension,
  conductorAreaIn,
  gapIn,
  lengthIn,
  milliohmDimension,
  ohmDimension,
  placeIn,
  shareDimension,
  soilDimension,
  spreadDimension,
  temperatureIn,
  thicknessIn,
  type Dimension,
} from '../../../src/panels/draw/dimension.ts'
import {
  describeDimension,
  describePlace,
  readDimension,
  writeDimension,
} from '../../../src/panels/draw/typedDimension.ts'

function read(text: string, dimension: Dimension): number {
  const result = readDimension(text, dimension)
  if (!result.ok) throw new Error(result.error)
  return result.value
}

function trouble(text: string, dimension: Dimension): string {
  const result = readDimension(text, dimension)
  return result.ok ? `read as ${result.value}` : result.error
}

describe('readDimension', () => {
  it('takes a bare number in the unit that the site uses', () => {
    expect(read('3,6', lengthIn('metric'))).toBe(3.6)
    expect(read('12', lengthIn('us'))).toBeCloseTo(3.6576, 12)
    expect(read('16', thicknessIn('metric'))).toBeCloseTo(0.016, 12)
    expect(read('0.625', thicknessIn('us'))).toBeCloseTo(0.015875, 12)
  })

  it('takes either system in either site', () => {
    for (const units of ['metric', 'us'] as const) {
      for (const [typed, metres] of [
        ['12 ft', 3.6576],
        ['3.6 m', 3.6],
        ['3600mm', 3.6],
        ['360 cm', 3.6],
        ['40 IN', 1.016],
        ['12\' 6"', 3.81],
        ['12 ft 6 in', 3.81],
        ['-2 ft 3 in', -0.6858],
      ] as const) {
        expect(read(typed, placeIn(units)), `${typed}, ${units}`).toBeCloseTo(metres, 12)
      }
    }
  })

  it('reads the fractions that rods are sold by', () => {
    expect(read('5/8 in', thicknessIn('metric'))).toBeCloseTo(0.015875, 12)
    expect(read('5/8', thicknessIn('us'))).toBeCloseTo(0.015875, 12)
    expect(read('1 1/2 in', thicknessIn('us'))).toBeCloseTo(0.0381, 12)
    expect(read('8\' 3 1/2"', lengthIn('us'))).toBeCloseTo(2.5273, 12)
  })

  it('keeps milli and mega apart, and ohms from milliohms', () => {
    expect(read('40', ohmDimension)).toBe(40)
    expect(read('40m', ohmDimension)).toBeCloseTo(0.04, 12)
    expect(read('2 MΩ', ohmDimension)).toBe(2e6)
    expect(read('0.8', milliohmDimension)).toBeCloseTo(0.0008, 15)
    expect(read('500 µΩ', milliohmDimension)).toBeCloseTo(0.0005, 15)
    expect(read('1.2 Ω', milliohmDimension)).toBe(1.2)
    // the sign for ohm has a code of its own
    expect(read('3 m\u2126', ohmDimension)).toBeCloseTo(0.003, 12)
  })

  it('turns areas, temperatures, soil, shares and spreads into what the site keeps', () => {
    expect(read('250', conductorAreaIn('us'))).toBeCloseTo(126.677, 3)
    expect(read('16 mm2', conductorAreaIn('us'))).toBe(16)
    expect(read('68', temperatureIn('us'))).toBeCloseTo(20, 12)
    expect(read('-5 °C', temperatureIn('us'))).toBe(-5)
    expect(read('5000 ohm-cm', soilDimension)).toBeCloseTo(50, 12)
    expect(read('0.3', shareDimension)).toBeCloseTo(0.003, 15)
    expect(read('2.2255', spreadDimension)).toBeCloseTo(0.8, 3)
    expect(read('-350', bearingDimension)).toBe(10)
    expect(read('360', bearingDimension)).toBe(0)
  })

  it('says what is wrong and which units are taken', () => {
    expect(trouble('', lengthIn('metric'))).toBe('A number is needed here.')
    expect(trouble('12 parsec', lengthIn('us'))).toContain('ft, in, m, mm or cm')
    expect(trouble('1,234.5', lengthIn('metric'))).toContain('more than one comma or point')
    expect(trouble('0', lengthIn('metric'))).toBe('It has to be more than 0 m.')
    expect(trouble('-1 ft', gapIn('us'))).toBe('It cannot be less than 0 ft.')
    expect(trouble('0.5', spreadDimension)).toBe('It cannot be less than 1 ×.')
    expect(trouble('3/0 in', thicknessIn('us'))).toContain('is not a number')
    expect(trouble('m', lengthIn('metric'))).toContain('is not a number')
  })
})

describe('writeDimension', () => {
  it('writes what it reads, rounded to what one can read off a tape', () => {
    expect(writeDimension(3.6576, lengthIn('us'))).toBe('12')
    expect(writeDimension(3.6, lengthIn('us'))).toBe('11.811')
    expect(writeDimension(0.1 + 0.2, lengthIn('metric'))).toBe('0.3')
    expect(writeDimension(0.000_012_3, lengthIn('metric'))).toBe('0.0000123')
    expect(writeDimension(-0.000_000_01, placeIn('metric'))).toBe('-1e-8')
    expect(describeDimension(20, temperatureIn('us'))).toBe('68 °F')
    expect(describePlace({ x: -3, y: 1.25 }, 'metric')).toBe('x\u00a0−3\u00a0m, y\u00a01.25\u00a0m')
  })

  it('comes back to the same place, to its last decimal, for any value', () => {
    let seed = 20_260_511
    const next = () => (seed = (seed * 48_271) % 2_147_483_647) / 2_147_483_647
    for (let k = 0; k < 2000; k++) {
      const value = 0.01 + next() * 10 ** (next() * 5)
      for (const dimension of [
        lengthIn('metric'),
        lengthIn('us'),
        thicknessIn('us'),
        conductorAreaIn('us'),
      ]) {
        const [unit] = dimension.units
        const back = read(writeDimension(value, dimension), dimension)
        expect(Math.abs(unit.fromBase(back) - unit.fromBase(value))).toBeLessThanOrEqual(
          0.5 * 10 ** -unit.decimals + 1e-9,
        )
      }
    }
  })
})
