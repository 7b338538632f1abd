import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { materialIds } from '../../src/model/materials.ts'
import { atTemperature, conductorOhm, memberOhmPerM } from '../../src/network/conductorOhm.ts'

const copper = { materialId: 'copper', areaMm2: 16, lengthM: 100, temperatureC: 20 } as const

const anyConductor = fc.record({
  materialId: fc.constantFrom(...materialIds),
  areaMm2: fc.double({ min: 0.5, max: 5000, noNaN: true }),
  lengthM: fc.double({ min: 0.01, max: 10_000, noNaN: true }),
  temperatureC: fc.double({ min: -40, max: 150, noNaN: true }),
})
const fixed = { seed: 20, numRuns: 300 }
const close = (a: number, b: number) => expect(Math.abs(a / b - 1)).toBeLessThan(1e-12)

describe('conductorOhm', () => {
  it('is ρL/A at 20 °C with the area in square millimetres', () => {
    // 1.7241e-8 Ω·m · 100 m / 16e-6 m²
    expect(conductorOhm(copper)).toBeCloseTo(0.10775625, 12)
  })

  it('rises by the coefficient for every kelvin', () => {
    const rise = conductorOhm({ ...copper, temperatureC: 30 }) / conductorOhm(copper)
    expect(rise).toBeCloseTo(1.0393, 12)
  })

  it('grows with length, falls with area, grows with temperature', () => {
    fc.assert(
      fc.property(anyConductor, (c) => {
        const ohm = conductorOhm(c)
        close(conductorOhm({ ...c, lengthM: 3 * c.lengthM }), 3 * ohm)
        close(conductorOhm({ ...c, areaMm2: 3 * c.areaMm2 }), ohm / 3)
        expect(conductorOhm({ ...c, temperatureC: c.temperatureC + 1 })).toBeGreaterThan(ohm)
        close(conductorOhm(c), c.lengthM * memberOhmPerM(c, c.temperatureC))
      }),
      fixed,
    )
  })

  it('refuses lengths, areas and temperatures that no conductor has', () => {
    for (const bad of [0, -1, NaN, Infinity]) {
      expect(() => conductorOhm({ ...copper, lengthM: bad })).toThrow('m long')
      expect(() => conductorOhm({ ...copper, areaMm2: bad })).toThrow('mm²')
      expect(() => memberOhmPerM({ materialId: 'copper', areaMm2: bad }, 20)).toThrow('mm²')
    }
    for (const bad of [NaN, Infinity, -Infinity]) {
      expect(() => conductorOhm({ ...copper, temperatureC: bad })).toThrow('no temperature')
    }
    // the straight line through 20 °C reaches zero ohms at −234.5 °C for copper
    expect(() => conductorOhm({ ...copper, temperatureC: -235 })).toThrow('linear law')
    expect(conductorOhm({ ...copper, temperatureC: -234 })).toBeGreaterThan(0)
  })
})

describe('atTemperature', () => {
  it('agrees with the resistance computed at the other temperature, there and back', () => {
    fc.assert(
      fc.property(anyConductor, fc.double({ min: -40, max: 150, noNaN: true }), (c, toC) => {
        const there = atTemperature(conductorOhm(c), c.temperatureC, toC, c.materialId)
        close(there, conductorOhm({ ...c, temperatureC: toC }))
        close(atTemperature(there, toC, c.temperatureC, c.materialId), conductorOhm(c))
      }),
      fixed,
    )
  })

  it('leaves no ohms at no ohms and refuses what is no resistance', () => {
    expect(atTemperature(0, 20, 70, 'copper')).toBe(0)
    expect(() => atTemperature(-1, 20, 70, 'copper')).toThrow('cannot be moved')
    expect(() => atTemperature(NaN, 20, 70, 'copper')).toThrow('cannot be moved')
    expect(() => atTemperature(1, NaN, 70, 'copper')).toThrow('no temperature')
    expect(() => atTemperature(1, 20, -300, 'copper')).toThrow('linear law')
  })
})
