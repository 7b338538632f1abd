import { describe, expect, it } from 'vitest'
import { plateOhm, ringOhm, straightWireOhm, uprightOhm } from '../../src/network/buriedOhm.ts'
import { hemisphereOhm, rodOhm } from '../../src/network/electrodeOhm.ts'

const soil = 100

describe('a rod or post of any proportion', () => {
  it('is Dwight’s where that holds', () => {
    const rod = { lengthM: 2.4, radiusM: 0.008 }
    expect(uprightOhm(rod, soil)).toBe(rodOhm(rod, soil))
  })

  it('is never below the half sphere that holds it, however short', () => {
    for (const lengthM of [0.001, 0.1, 0.5, 0.67, 0.7, 1, 1.5]) {
      const ohm = uprightOhm({ lengthM, radiusM: 1 }, soil)
      expect(ohm).toBeGreaterThanOrEqual(hemisphereOhm(Math.hypot(lengthM, 1), soil))
    }
    expect(uprightOhm({ lengthM: 0.5, radiusM: 1 }, soil)).toBeCloseTo(
      soil / (2 * Math.PI * Math.sqrt(1.25)),
      9,
    )
  })

  it('falls as the rod grows', () => {
    let last = Infinity
    for (let lengthM = 0.05; lengthM < 5; lengthM += 0.05) {
      const ohm = uprightOhm({ lengthM, radiusM: 0.2 }, soil)
      expect(ohm).toBeLessThanOrEqual(last)
      last = ohm
    }
  })
})

it('a plate of 1 m² in 100 Ω·m has 100/4·√π ohms', () => {
  expect(plateOhm(1, soil)).toBeCloseTo(44.3113, 4)
  expect(plateOhm(4, soil)).toBeCloseTo(22.1557, 4)
})

describe('a straight wire', () => {
  it('follows the series for small depth (Dwight 1936 / IEEE Std 142 for 2L and s/2; series from memory)', () => {
    const lengthM = 30
    const half = lengthM / 2
    // a hair: the series leaves out the a/ℓ of the closed form
    const a = 1e-7
    const s = 2 * 0.6
    const series =
      (soil / (4 * Math.PI * half)) *
      (Math.log((4 * half) / a) +
        Math.log((4 * half) / s) -
        2 +
        s / (2 * half) -
        s ** 2 / (16 * half ** 2) +
        s ** 4 / (512 * half ** 4))
    expect(straightWireOhm({ lengthM, radiusM: a, depthM: 0.6 }, soil)).toBeCloseTo(series, 6)
  })

  it('is the mean potential of a line source and its image, integrated numerically', () => {
    const wire = { lengthM: 3, radiusM: 0.3, depthM: 2 }
    const n = 400
    const mean = (d: number) => {
      let sum = 0
      for (let i = 0; i < n; i++) {
        for (let j = 0; j < n; j++) sum += 1 / Math.hypot(((i - j) * wire.lengthM) / n, d)
      }
      return sum / n ** 2
    }
    const expected = (soil / (4 * Math.PI)) * (mean(wire.radiusM) + mean(2 * wire.depthM))
    expect(straightWireOhm(wire, soil) / expected).toBeCloseTo(1, 3)
  })

  it('far below the surface has half the resistance of one in the surface', () => {
    const shallow = straightWireOhm({ lengthM: 10, radiusM: 0.01, depthM: 0.005 }, soil)
    const deep = straightWireOhm({ lengthM: 10, radiusM: 0.01, depthM: 1e5 }, soil)
    expect(deep / shallow).toBeCloseTo(0.5, 4)
  })
})

describe('a ring', () => {
  it('follows ρ/(2π²D)·(ln(8D/d) + ln(4D/s)) for small depth (Dwight 1936; from memory)', () => {
    const across = 40
    const ring = { lengthM: Math.PI * across, radiusM: 0.005, depthM: 0.3 }
    const expected =
      (soil / (2 * Math.PI ** 2 * across)) *
      (Math.log((8 * across) / (2 * ring.radiusM)) + Math.log((4 * across) / (2 * ring.depthM)))
    expect(ringOhm(ring, soil) / expected).toBeCloseTo(1, 4)
  })

  it('is the mean potential of a ring source and its image, integrated numerically', () => {
    const ring = { lengthM: 2 * Math.PI, radiusM: 0.2, depthM: 0.7 }
    const n = 4000
    const mean = (d: number) => {
      let sum = 0
      for (let k = 0; k < n; k++) sum += 1 / Math.hypot(2 * Math.sin((Math.PI * (k + 0.5)) / n), d)
      return sum / n
    }
    const expected = (soil / (4 * Math.PI)) * (mean(ring.radiusM) + mean(2 * ring.depthM))
    expect(ringOhm(ring, soil)).toBeCloseTo(expected, 6)
  })

  it('reads a little more than the same wire laid straight', () => {
    const wire = { lengthM: 60, radiusM: 0.005, depthM: 0.5 }
    const ratio = ringOhm(wire, soil) / straightWireOhm(wire, soil)
    expect(ratio).toBeGreaterThan(1)
    expect(ratio).toBeLessThan(1.2)
  })
})
