import { describe, expect, it } from 'vitest'
import { materialIds, materials } from '../../src/model/materials.ts'

describe('materials', () => {
  it('lists every metal with a source, a confidence and figures a metal can have', () => {
    expect(materialIds).toHaveLength(7)
    for (const id of materialIds) {
      const { resistivityOhmM, temperatureCoefficientPerK, source, confidence } = materials[id]
      // silver is the best conductor at 1.59e-8 Ω·m, and stainless steels are the worst used here
      expect(resistivityOhmM, id).toBeGreaterThan(1.59e-8)
      expect(resistivityOhmM, id).toBeLessThan(1e-6)
      expect(temperatureCoefficientPerK, id).toBeGreaterThan(0.0005)
      expect(temperatureCoefficientPerK, id).toBeLessThan(0.006)
      expect(source, id).toMatch(/IEC \d|IEEE Std \d|handbook/)
      expect(['published', 'from memory'], id).toContain(confidence)
    }
  })

  it('orders the metals as conductors are ordered', () => {
    const order = [
      'copper',
      'aluminium-conductor',
      'aluminium-extrusion',
      'copper-clad-steel',
      'galvanised-steel',
      'stainless-304',
    ] as const
    const ohmM = order.map((id) => materials[id].resistivityOhmM)
    expect(ohmM).toEqual([...ohmM].sort((a, b) => a - b))
    expect(new Set(ohmM).size).toBe(order.length)
  })

  it('gives tinned copper the resistance of the copper below', () => {
    expect(materials['tinned-copper'].resistivityOhmM).toBe(materials.copper.resistivityOhmM)
    expect(materials['tinned-copper'].temperatureCoefficientPerK).toBe(
      materials.copper.temperatureCoefficientPerK,
    )
  })

  it('gives alloys of one metal about the same rise in ohm metres per kelvin', () => {
    const risePerK = (id: 'aluminium-conductor' | 'aluminium-extrusion') =>
      materials[id].resistivityOhmM * materials[id].temperatureCoefficientPerK
    expect(risePerK('aluminium-extrusion') / risePerK('aluminium-conductor')).toBeCloseTo(1, 1)
  })
})
