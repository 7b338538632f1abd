import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { scatterOfJoints } from '../../src/reading/jointScatter.ts'

function one(medianOhm: number, lnSpread: number, loopS: number) {
  const s = scatterOfJoints(Float64Array.of(medianOhm), Float64Array.of(lnSpread), Float64Array.of(loopS))
  return { mean: s.meanOhm[0], variance: s.varianceOhm2[0] }
}

describe('the scatter of sound joints', () => {
  it('is the log-normal itself for a joint with no path beside it', () => {
    const m = 0.001
    for (const s of [0.1, 0.4, 0.8]) {
      const { mean, variance } = one(m, s, 0)
      expect(mean / (m * Math.expm1((s * s) / 2))).toBeCloseTo(1, 3)
      expect(variance / (m * m * Math.exp(s * s) * Math.expm1(s * s))).toBeCloseTo(1, 2)
    }
  })

  it('agrees with simulated parallel paths, where a linear estimate is far off', () => {
    // one scattering joint of 1 ohm beside a fixed 0.25 ohm: R = r / (1 + 4 r)
    const random = randomStream(3)
    for (const s of [0.5, 2]) {
      const h = 0.2 // leverage of the joint: g R_e = 1 × 0.2
      const { mean, variance } = one(1, s, 1 - h)
      const draws = Array.from({ length: 200_000 }, () => {
        const r = Math.exp(s * random.normal())
        return r / (1 + 4 * r) - 0.2
      })
      const average = draws.reduce((sum, x) => sum + x, 0) / draws.length
      const spread = draws.reduce((sum, x) => sum + (x - average) ** 2, 0) / draws.length
      // the pair across both sends h of its current through the joint
      expect(h * h * mean).toBeCloseTo(average, 3)
      expect((h ** 4 * variance) / spread).toBeGreaterThan(0.9)
      expect((h ** 4 * variance) / spread).toBeLessThan(1.1)
    }
  })

  it('is nothing for metal that does not scatter, and never negative', () => {
    expect(one(1, 0, 0)).toEqual({ mean: 0, variance: 0 })
    expect(one(1, 2, 1e6).variance).toBeGreaterThanOrEqual(0)
  })
})
