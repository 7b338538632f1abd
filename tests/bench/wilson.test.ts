import { describe, expect, it } from 'vitest'
import { wilsonInterval } from './wilson.ts'

describe('Wilson interval', () => {
  it('solves the score equation (p − hits/tries)² = z² p (1 − p) / tries at both ends', () => {
    for (const [hits, tries] of [
      [0, 10],
      [5, 10],
      [81, 263],
      [200, 200],
    ]) {
      const { low, high } = wilsonInterval(hits, tries)
      for (const p of [low, high]) {
        expect((p - hits / tries) ** 2).toBeCloseTo((1.959964 ** 2 * p * (1 - p)) / tries, 12)
      }
      expect(low).toBeLessThanOrEqual(hits / tries)
      expect(high).toBeGreaterThanOrEqual(hits / tries)
    }
  })

  it('knows nothing without tries', () => {
    expect(wilsonInterval(0, 0)).toEqual({ low: 0, high: 1 })
  })
})
