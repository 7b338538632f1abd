import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { permittedTouchV } from '../../../src/faultcurrent/body/en50522.ts'
import { feetOhm, footOhm, surfaceDerating, underfootOhmM } from '../../../src/faultcurrent/body/feet.ts'
import { toleratedStepV, toleratedTouchV } from '../../../src/faultcurrent/body/ieee80.ts'
import { permittedVolts } from '../../../src/faultcurrent/body/permittedVolts.ts'

const seeded = { seed: 43, numRuns: 300 }
const ohmM = fc.double({ min: 1, max: 1e5, noNaN: true })
const thickness = fc.double({ min: 0, max: 1, noNaN: true })
const value = (result: { ok: true; value: number } | { ok: false }) => {
  if (!result.ok) throw new Error('refused')
  return result.value
}

describe('feet on the ground', () => {
  it('stand on the soil where the layer has no thickness, and on the layer where it has no end', () => {
    fc.assert(
      fc.property(ohmM, ohmM, (soil, layer) => {
        expect((surfaceDerating(soil, layer, 0) * layer) / soil).toBeCloseTo(1, 9)
        expect((surfaceDerating(soil, layer, 1e9) * layer) / layer).toBeCloseTo(1, 3)
      }),
      seeded,
    )
  })

  it('have more ohms on a thicker layer that resists more than the soil', () => {
    fc.assert(
      fc.property(
        ohmM,
        fc.double({ min: 1, max: 100, noNaN: true }),
        thickness,
        thickness,
        (soil, times, a, b) => {
          const at = (thicknessM: number) =>
            underfootOhmM({ soilOhmM: soil, surface: { ohmM: soil * times, thicknessM } })
          expect(at(Math.min(a, b))).toBeLessThanOrEqual(at(Math.max(a, b)) * (1 + 1e-12))
        },
      ),
      seeded,
    )
  })

  it('beside each other are a quarter of what they are one after the other, shoes included', () => {
    const ground = { soilOhmM: 100, surface: null }
    expect(footOhm(ground)).toBeCloseTo(312.5, 9)
    expect(feetOhm(ground, 0, 'parallel')).toBeCloseTo(156.25, 9)
    expect(feetOhm(ground, 2000, 'series')).toBeCloseTo(4 * feetOhm(ground, 2000, 'parallel'), 9)
    expect(feetOhm(ground, 2000, 'parallel')).toBeCloseTo(1156.25, 9)
    expect(() => feetOhm(ground, -1, 'parallel')).toThrow('shoe')
  })
})

describe('IEEE Std 80', () => {
  const ask = { kind: 'ac', durationS: 0.5, kg: 50, ground: { soilOhmM: 100, surface: null } } as const

  it('is for alternating current and 0.03 to 3 s only', () => {
    for (const of of [toleratedTouchV, toleratedStepV]) {
      expect(of({ ...ask, kind: 'dc' })).toEqual({ ok: false, error: { refused: 'directCurrent' } })
      expect(of({ ...ask, durationS: 0.0299 })).toEqual({
        ok: false,
        error: { refused: 'tooShort', leastS: 0.03 },
      })
      for (const durationS of [3.001, null])
        expect(of({ ...ask, durationS })).toEqual({ ok: false, error: { refused: 'tooLong', mostS: 3 } })
      expect(of({ ...ask, durationS: 0.03 }).ok && of({ ...ask, durationS: 3 }).ok).toBe(true)
    }
  })

  it('permits less for longer, more to the heavier, more in a step than in a touch', () => {
    const within = fc.double({ min: 0.03, max: 3, noNaN: true })
    fc.assert(
      fc.property(within, within, ohmM, (a, b, soilOhmM) => {
        const at = (durationS: number, kg: 50 | 70 = 50) => ({
          ...ask,
          durationS,
          kg,
          ground: { soilOhmM, surface: null },
        })
        expect(value(toleratedTouchV(at(Math.max(a, b))))).toBeLessThanOrEqual(
          value(toleratedTouchV(at(Math.min(a, b)))),
        )
        expect(value(toleratedTouchV(at(a, 70)))).toBeGreaterThan(value(toleratedTouchV(at(a))))
        expect(value(toleratedStepV(at(a)))).toBeGreaterThan(value(toleratedTouchV(at(a))))
      }),
      seeded,
    )
  })
})

describe('EN 50522', () => {
  it('falls with time within its table, and refuses beyond it and for direct current', () => {
    const within = fc.double({ min: 0.05, max: 10, noNaN: true })
    for (const edition of [2010, 2022] as const) {
      fc.assert(
        fc.property(within, within, (a, b) => {
          const at = (durationS: number) => value(permittedTouchV(edition, { kind: 'ac', durationS }))
          expect(at(Math.max(a, b))).toBeLessThanOrEqual(at(Math.min(a, b)))
        }),
        seeded,
      )
      const refusal = (kind: 'ac' | 'dc', durationS: number | null) =>
        permittedTouchV(edition, { kind, durationS })
      expect(refusal('dc', 1)).toEqual({ ok: false, error: { refused: 'directCurrent' } })
      expect(refusal('ac', null)).toEqual({ ok: false, error: { refused: 'tooLong', mostS: 10 } })
      expect(refusal('ac', 0.04)).toEqual({ ok: false, error: { refused: 'tooShort', leastS: 0.05 } })
    }
  })
})

describe('all rules of one touch', () => {
  it('of direct current have the conventional limits alone', () => {
    const rows = permittedVolts({ kind: 'dc', durationS: 0.2, ground: null })
    expect(rows.filter(({ volt }) => volt !== null).map(({ rule, volt }) => [rule, volt])).toEqual([
      ['permittedConventional', 120],
      ['permittedConventionalHalf', 60],
    ])
    for (const { volt, refusal } of rows) expect(volt === null).toBe(refusal !== null)
  })

  it('of alternating current for half a second have all of them, and of a fault without end the conventional ones', () => {
    const ground = { soilOhmM: 100, surface: null }
    const rows = permittedVolts({ kind: 'ac', durationS: 0.5, ground })
    expect(rows.every(({ volt }) => volt !== null && volt > 0)).toBe(true)
    expect(new Set(rows.map(({ rule }) => rule)).size).toBe(rows.length)
    const endless = permittedVolts({ kind: 'ac', durationS: null, ground })
    expect(endless.filter(({ volt }) => volt !== null).map(({ volt }) => volt)).toEqual([50, 25])
  })
})
