import { describe, expect, it } from 'vitest'
import { chiSquareTail } from '../../src/base/normal.ts'
import { modelDoubt, supported, trustIn } from '../../src/locate/trust.ts'

describe('trust in readings that fit badly', () => {
  it('is whole up to the 95 % point of chi-square, then falls as one over it', () => {
    for (const degrees of [1, 3, 10, 40, 200]) {
      let point = degrees
      while (chiSquareTail(point, degrees) > 0.05) point += 0.01
      expect(trustIn(0.97 * point, degrees)).toBe(1)
      expect(trustIn(1.05 * point, degrees)).toBeLessThan(1)
      expect(trustIn(4 * point, degrees)).toBeCloseTo(0.25, 1)
    }
    expect(trustIn(0, 0)).toBe(1)
  })

  it('no chance is stated that the model does not support', () => {
    expect(supported(1)).toBe(1 - modelDoubt)
    expect(supported(0)).toBe(0)
  })
})
