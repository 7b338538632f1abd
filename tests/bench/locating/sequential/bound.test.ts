import { describe, expect, it } from 'vitest'
import { drawScenario } from '../generator/drawScenario.ts'
import { families } from '../generator/families.ts'
import { typedSite } from '../typedSite.ts'
import { boundOf, entropyBits, leastReadings, mutualInformationBits } from './bound.ts'

describe('information', () => {
  it('is one bit for a reading that halves without error, and none for one that says nothing', () => {
    const chance = [0.25, 0.25, 0.25, 0.25]
    expect(entropyBits(chance)).toBeCloseTo(2, 12)
    const halves = [
      [1, 0],
      [1, 0],
      [0, 1],
      [0, 1],
    ]
    expect(mutualInformationBits(chance, halves)).toBeCloseTo(1, 12)
    expect(
      mutualInformationBits(
        chance,
        chance.map(() => [0.3, 0.7]),
      ),
    ).toBeCloseTo(0, 12)
  })

  it('is 1 − h(ε) for a binary symmetric channel', () => {
    const e = 0.11
    const h = entropyBits([e, 1 - e])
    expect(
      mutualInformationBits(
        [0.5, 0.5],
        [
          [1 - e, e],
          [e, 1 - e],
        ],
      ),
    ).toBeCloseTo(1 - h, 12)
  })

  it('gives as many readings as halving takes, less what looks find out', () => {
    expect(leastReadings({ entropyBits: 6, bitsPerReading: 1 }, 1)).toBe(6)
    expect(leastReadings({ entropyBits: 6, bitsPerReading: 1 }, 8)).toBe(3)
    expect(leastReadings({ entropyBits: 1, bitsPerReading: 2 }, 1)).toBe(1)
  })

  it('of a reading in an array is more than nothing and less than there is to know', () => {
    const scenario = drawScenario(families[0], 0x10000000 + 100_001)
    const { entropyBits: h, bitsPerReading } = boundOf(scenario, typedSite(scenario.site))
    expect(bitsPerReading).toBeGreaterThan(0.2)
    expect(bitsPerReading).toBeLessThan(h)
  })
})
