import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { logLogThrough, linearThrough } from '../../../src/base/throughPoints.ts'
import { bodyOhm } from '../../../src/faultcurrent/body/bodyOhm.ts'
import { heartFactor } from '../../../src/faultcurrent/body/bodyPaths.ts'
import { shockZone, shockZones } from '../../../src/faultcurrent/body/shockZone.ts'
import { touchCurrents, touchVoltsOf } from '../../../src/faultcurrent/body/touchCurrent.ts'

const seeded = { seed: 41, numRuns: 400 }

const kind = fc.constantFrom('ac' as const, 'dc' as const)
const path = fc.constantFrom('handToHand' as const, 'handToFeet' as const, 'bothHandsToFeet' as const)
const percentile = fc.constantFrom(5 as const, 50 as const, 95 as const)
const body = fc.record({ kind, path, percentile, isWet: fc.boolean() })
const volts = fc.double({ min: 0, max: 1500, noNaN: true })
const ohms = fc.double({ min: 0, max: 1e6, noNaN: true })
const currentA = fc.double({ min: 0, max: 3, noNaN: true })
const seconds = fc.option(fc.double({ min: 0, max: 100, noNaN: true }), { nil: null })

describe('a curve through points', () => {
  const points = [
    [1, 100],
    [10, 10],
    [100, 20],
  ] as const

  it('meets its points, is straight between them and flat beyond', () => {
    for (const [x, y] of points) {
      expect(linearThrough(points, x)).toBe(y)
      expect(logLogThrough(points, x)).toBe(y)
    }
    expect(linearThrough(points, 5.5)).toBeCloseTo(55, 12)
    expect(logLogThrough(points, Math.sqrt(10))).toBeCloseTo(Math.sqrt(1000), 10)
    expect([linearThrough(points, 0), logLogThrough(points, Infinity)]).toEqual([100, 20])
  })
})

describe('the impedance of a body', () => {
  it('never rises with volts, with water or from hand to hand to a path through feet', () => {
    fc.assert(
      fc.property(body, volts, volts, (one, a, b) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)]
        expect(bodyOhm(one, low)).toBeGreaterThanOrEqual(bodyOhm(one, high) * (1 - 1e-12))
        expect(bodyOhm({ ...one, isWet: true }, a)).toBeLessThanOrEqual(bodyOhm({ ...one, isWet: false }, a))
        expect(bodyOhm({ ...one, path: 'handToFeet' }, a)).toBeLessThan(
          bodyOhm({ ...one, path: 'handToHand' }, a),
        )
      }),
      seeded,
    )
  })

  it('is ordered by percentile, and never less for direct current', () => {
    fc.assert(
      fc.property(body, volts, (one, v) => {
        const of = (p: 5 | 50 | 95) => bodyOhm({ ...one, percentile: p }, v)
        expect(of(5)).toBeLessThan(of(50))
        expect(of(50)).toBeLessThan(of(95))
        expect(bodyOhm({ ...one, kind: 'dc' }, v)).toBeGreaterThanOrEqual(bodyOhm({ ...one, kind: 'ac' }, v))
      }),
      seeded,
    )
  })

  it('stays below 25 V and above 1000 V what it is there', () => {
    fc.assert(
      fc.property(body, (one) => {
        expect(bodyOhm(one, 0)).toBe(bodyOhm(one, 25))
        expect(bodyOhm(one, 5000)).toBe(bodyOhm(one, 1000))
      }),
      seeded,
    )
  })

  it('refuses volts that are no size', () => {
    const one = { kind: 'ac', path: 'handToHand', percentile: 50, isWet: false } as const
    expect(() => bodyOhm(one, -1)).toThrow('across a body')
    expect(() => bodyOhm(one, NaN)).toThrow('across a body')
  })
})

describe('a body behind volts and ohms', () => {
  it('solves its own circuit', () => {
    fc.assert(
      fc.property(body, volts, ohms, (one, prospectiveV, seriesOhm) => {
        const touchV = touchVoltsOf(one, { prospectiveV, seriesOhm })
        expect(touchV).toBeLessThanOrEqual(prospectiveV)
        const back = touchV + (seriesOhm * touchV) / bodyOhm(one, touchV)
        expect(Math.abs(back - prospectiveV)).toBeLessThanOrEqual(1e-9 * prospectiveV + 1e-300)
      }),
      seeded,
    )
  })

  it('carries more with more volts, and less with more ohms', () => {
    const current = (one: Parameters<typeof bodyOhm>[0], prospectiveV: number, seriesOhm: number) => {
      const touchV = touchVoltsOf(one, { prospectiveV, seriesOhm })
      return touchV / bodyOhm(one, touchV)
    }
    fc.assert(
      fc.property(body, volts, volts, ohms, ohms, (one, v1, v2, r1, r2) => {
        const ordered = (lesser: number, greater: number) =>
          expect(lesser).toBeLessThanOrEqual(greater * (1 + 1e-9) + 1e-300)
        ordered(current(one, Math.min(v1, v2), r1), current(one, Math.max(v1, v2), r1))
        ordered(current(one, v1, Math.max(r1, r2)), current(one, v1, Math.min(r1, r2)))
      }),
      seeded,
    )
  })

  it('has all the volts without ohms, and none behind an open circuit', () => {
    const one = { kind: 'dc', path: 'handToFeet', percentile: 50, isWet: false } as const
    expect(touchVoltsOf(one, { prospectiveV: 600, seriesOhm: 0 })).toBe(600)
    expect(touchVoltsOf(one, { prospectiveV: 600, seriesOhm: Infinity })).toBe(0)
    expect(() => touchVoltsOf(one, { prospectiveV: -1, seriesOhm: 0 })).toThrow('between two places')
    expect(() => touchVoltsOf(one, { prospectiveV: 1, seriesOhm: NaN })).toThrow('in series')
  })

  it('is told for three bodies, most current first, each its own volts', () => {
    const currents = touchCurrents({
      kind: 'ac',
      path: 'handToFeet',
      isWet: false,
      durationS: null,
      prospectiveV: 230,
      seriesOhm: 500,
    })
    expect(currents.map(({ percentile: p }) => p)).toEqual([5, 50, 95])
    for (const { touchV, bodyOhm: ohm, currentA: a } of currents) {
      expect(a * (ohm + 500)).toBeCloseTo(230, 6)
      expect(touchV).toBeCloseTo(a * ohm, 9)
    }
    expect(currents[0].currentA).toBeGreaterThan(currents[1].currentA)
    expect(currents[1].currentA).toBeGreaterThan(currents[2].currentA)
    expect(currents[0].zone).toBe('heartLikely')
  })
})

describe('zones of effects', () => {
  it('never get milder with more current or more time', () => {
    const rank = (shock: Parameters<typeof shockZone>[0]) => shockZones.indexOf(shockZone(shock))
    fc.assert(
      fc.property(kind, path, currentA, currentA, seconds, seconds, (k, p, a1, a2, s1, s2) => {
        const at = (a: number, durationS: number | null) => rank({ kind: k, path: p, currentA: a, durationS })
        expect(at(Math.min(a1, a2), s1)).toBeLessThanOrEqual(at(Math.max(a1, a2), s1))
        const [short, long] = [
          Math.min(s1 ?? Infinity, s2 ?? Infinity),
          Math.max(s1 ?? Infinity, s2 ?? Infinity),
        ]
        expect(at(a1, short)).toBeLessThanOrEqual(at(a1, long === Infinity ? null : long))
      }),
      seeded,
    )
  })

  it('come one after the other as the current rises, for each path, kind and time', () => {
    fc.assert(
      fc.property(kind, path, seconds, (k, p, durationS) => {
        const zones = Array.from({ length: 4000 }, (_, i) =>
          shockZone({ kind: k, path: p, currentA: 1e-4 * 1.0033 ** i, durationS }),
        )
        expect([...new Set(zones)]).toEqual(shockZones)
      }),
      { seed: 42, numRuns: 60 },
    )
  })

  it('from hand to hand the heart bears as much more as the factor says', () => {
    const mostA = (p: 'handToHand' | 'handToFeet') => {
      let [low, high] = [0, 10]
      for (let i = 0; i < 60; i++) {
        const middle = (low + high) / 2
        const zone = shockZone({ kind: 'ac', path: p, currentA: middle, durationS: 1 })
        if (zone === 'heart' || zone === 'heartLikely') high = middle
        else low = middle
      }
      return low
    }
    expect(mostA('handToHand') / mostA('handToFeet')).toBeCloseTo(1 / heartFactor.handToHand, 9)
  })

  it('have direct current bear no worse than alternating current', () => {
    fc.assert(
      fc.property(path, currentA, seconds, (p, a, durationS) => {
        const at = (k: 'ac' | 'dc') =>
          shockZones.indexOf(shockZone({ kind: k, path: p, currentA: a, durationS }))
        expect(at('dc')).toBeLessThanOrEqual(at('ac'))
      }),
      seeded,
    )
  })
})
