import { describe, expect, it } from 'vitest'
import { metricSizes } from '../../src/model/conductorSizes.ts'
import { leadOhm } from '../../src/reading/leadOhm.ts'

const lead = (areaMm2: number, lengthM: number) =>
  leadOhm({ id: 'lead', name: 'lead', lengthM, areaMm2, material: 'copper' }, 20)

/**
 * Flexible copper leads against IEC 60228:2004 (ed. 3), class 5 plain, maxima at 20 °C in ohm per km; read in secondary
 * copies, of which two agree.
 */
const class5MaxOhmPerKm: readonly (readonly [number, number])[] = [
  [1.5, 13.3],
  [2.5, 7.98],
  [4, 4.95],
  [6, 3.3],
  [10, 1.91],
]

describe('what a lead has by itself, against IEC 60228 class 5', () => {
  // The table has maxima that allow for wire tolerance and lay; a lead is computed from its nominal area. So it lies below
  // every row, by 10 to 16 %: a lead in hand may have that much more, which nulling takes out.
  it.each(class5MaxOhmPerKm)('%f mm², at most %f ohm per km', (areaMm2, mostOhm) => {
    const ohm = lead(areaMm2, 1000)
    expect(ohm).toBeLessThan(mostOhm)
    expect(mostOhm / ohm - 1).toBeGreaterThan(0.1)
    expect(mostOhm / ohm - 1).toBeLessThan(0.16)
  })

  it('is what the list of sizes has for them, and goes with the length', () => {
    for (const [areaMm2, mostOhm] of class5MaxOhmPerKm) {
      expect(metricSizes.find((size) => size.areaMm2 === areaMm2)?.copperClass5MaxOhmPerKm).toBe(mostOhm)
      expect(lead(areaMm2, 50)).toBeCloseTo(lead(areaMm2, 1000) / 20, 12)
    }
    // 50 m of 1.5 mm²: some 0.6 ohm, as much as the level that a bond is often held against
    expect(lead(1.5, 50)).toBeGreaterThan(0.55)
    expect(lead(1.5, 50)).toBeLessThan((50 / 1000) * 13.3)
  })
})
