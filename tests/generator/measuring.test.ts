import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import type { Spot } from '../../src/model/schema/record.ts'
import { drawContact, drawPoorContact, drawSoundContact, poorRate } from './drawContact.ts'
import { drawLeadOffset, leadOhm } from './drawLead.ts'
import { drawInstrument, roundTo } from './instrument.ts'
import { fourWireKit, longLead, twoWireKit } from './testKits.ts'

const spot = (surface: Spot['surface']): Spot => ({ part: 'B1', spot: 'face', surface })
const draws = (count: number, draw: () => number) => Array.from({ length: count }, draw)

/** Four standard errors of a share. */
const shareTolerance = (share: number, count: number) => 4 * Math.sqrt((share * (1 - share)) / count)

describe('contacts', () => {
  it('of sound clips add a median of 3 mΩ with ln-spread 0.8', () => {
    const random = randomStream(1)
    const logs = draws(5000, () => Math.log(drawSoundContact(random) / 0.003))
    const mean = logs.reduce((sum, x) => sum + x, 0) / logs.length
    const variance = logs.reduce((sum, x) => sum + (x - mean) ** 2, 0) / logs.length
    expect(Math.abs(mean)).toBeLessThan((4 * 0.8) / Math.sqrt(5000))
    expect(Math.abs(Math.sqrt(variance) - 0.8)).toBeLessThan((4 * 0.8) / Math.sqrt(10000))
  })

  it('of poor clips are over range or above 10 Ω in two of five, else 50 mΩ in the median', () => {
    const random = randomStream(2)
    const poor = draws(10_000, () => drawPoorContact(random))
    const over = poor.filter((ohm) => ohm === Infinity).length / poor.length
    expect(Math.abs(over - 0.2)).toBeLessThan(shareTolerance(0.2, 10_000))
    // Of the log-normal part one in five thousand lies above 10 Ω too.
    const high = poor.filter((ohm) => ohm > 10).length / poor.length
    expect(Math.abs(high - 0.4)).toBeLessThan(shareTolerance(0.4, 10_000) + 0.001)
    const belowMedian = poor.filter((ohm) => ohm < 0.05).length / poor.length
    expect(Math.abs(belowMedian - 0.3)).toBeLessThan(shareTolerance(0.3, 10_000))
    expect(Math.max(...poor.filter(Number.isFinite))).toBeLessThanOrEqual(1000)
  })

  it('are poor by the worse surface, and less often on a second try', () => {
    expect(poorRate([spot('bare'), spot('pierced')], false)).toBe(0.03)
    expect(poorRate([spot('bare'), spot('coated')], false)).toBe(0.2)
    expect(poorRate([spot('bare'), spot('coated')], true)).toBe(0.05)
    expect(poorRate([spot('bare'), spot('bare')], true)).toBe(0.03)
  })

  it('come at their rate, and drop out of a four-wire reading unless they fail', () => {
    const random = randomStream(3)
    const coated = [spot('bare'), spot('coated')]
    const twoWire = draws(10_000, () => drawContact('twoWire', coated, false, random))
    // Sound contacts pass 0.5 Ω never, poor ones in 40 % and 0.6 · 6 %.
    const high = twoWire.filter((ohm) => ohm > 0.5).length / twoWire.length
    const expected = 0.2 * (0.4 + 0.6 * 0.0624)
    expect(Math.abs(high - expected)).toBeLessThan(shareTolerance(expected, 10_000))
    const fourWire = draws(10_000, () => drawContact('fourWire', coated, false, random))
    expect(new Set(fourWire)).toEqual(new Set([0, Infinity]))
    const lost = fourWire.filter((ohm) => ohm > 0).length / fourWire.length
    expect(Math.abs(lost - 0.01)).toBeLessThan(shareTolerance(0.01, 10_000))
  })
})

describe('leads', () => {
  it('have the ohms of their copper', () => {
    // 1.724e-8 · 50 / 1.5e-6
    expect(leadOhm(longLead, 20)).toBeCloseTo(0.57467, 5)
    expect(leadOhm(longLead, 30) - leadOhm(longLead, 20)).toBeCloseTo(0.02258, 4)
  })

  it('keep 3 to 6 % and 2 to 5 mΩ after nulling, of either sign', () => {
    const random = randomStream(4)
    const offsets = draws(2000, () => drawLeadOffset(longLead, 20, true, random)(0))
    const sizes = offsets.map(Math.abs)
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(0.03 * 0.57466 + 0.002)
    expect(Math.max(...sizes)).toBeLessThanOrEqual(0.06 * 0.57467 + 0.005)
    const positive = offsets.filter((ohm) => ohm > 0).length / offsets.length
    expect(Math.abs(positive - 0.5)).toBeLessThan(shareTolerance(0.5, 2000))
  })

  it('drift by no more than the weather changes', () => {
    const random = randomStream(5)
    const drifts = draws(2000, () => {
      const offset = drawLeadOffset(longLead, 20, true, random)
      return offset(1) - offset(0)
    })
    expect(Math.max(...drifts.map(Math.abs))).toBeLessThanOrEqual(0.0181)
    expect(Math.max(...drifts.map(Math.abs))).toBeGreaterThan(0.015)
  })

  it('are in the reading when nobody nulled them, and nowhere without a lead', () => {
    expect(drawLeadOffset(longLead, 20, false, randomStream(6))(0)).toBeCloseTo(0.57467, 5)
    expect(drawLeadOffset(null, 20, true, randomStream(6))(2)).toBe(0)
  })
})

describe('instruments', () => {
  it('show steps of their resolution without stray digits', () => {
    expect(roundTo(0.01, 0.0349)).toBe(0.03)
    expect(roundTo(0.0001, 0.00035001)).toBe(0.0004)
    expect(roundTo(0.025, 0.06)).toBe(0.05)
    expect(String(roundTo(0.01, 0.07))).toBe('0.07')
  })

  it('stay within ± (2 % + 3 digits), one gain error through all readings', () => {
    const random = randomStream(7)
    const readOf = (ohm: number, instrument = drawInstrument(twoWireKit, random)) => {
      const result = instrument.read(ohm)
      return result.form === 'ohm' ? result.ohm : Number.NaN
    }
    const fresh = draws(3000, () => readOf(10))
    expect(Math.max(...fresh.map((ohm) => Math.abs(ohm - 10)))).toBeLessThanOrEqual(0.235)
    expect(Math.max(...fresh)).toBeGreaterThan(10.19)
    expect(Math.min(...fresh)).toBeLessThan(9.81)
    const one = drawInstrument(twoWireKit, random)
    const again = draws(300, () => readOf(10, one))
    expect(Math.max(...again) - Math.min(...again)).toBeLessThanOrEqual(0.0700001)
    expect(Math.max(...again) - Math.min(...again)).toBeGreaterThan(0.04)
  })

  it('show nothing below zero and over range above their range', () => {
    const instrument = drawInstrument(fourWireKit, randomStream(8))
    expect(instrument.read(-1)).toEqual({ form: 'ohm', ohm: 0 })
    expect(instrument.read(2.5)).toEqual({ form: 'over', atLeastOhm: 2 })
    expect(instrument.read(Infinity)).toEqual({ form: 'over', atLeastOhm: 2 })
    expect(instrument.read(1.9).form).toBe('ohm')
  })
})
