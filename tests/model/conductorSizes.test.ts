import { describe, expect, it } from 'vitest'
import {
  americanSizes,
  circularMilMm2,
  conductorSize,
  conductorSizeIds,
  metricSizes,
} from '../../src/model/conductorSizes.ts'
import type { ConductorSizeId } from '../../src/model/conductorSizes.ts'

const ascending = (values: readonly number[]) => values.every((v, i) => i === 0 || v > values[i - 1])
const descending = (values: readonly number[]) => values.every((v, i) => i === 0 || v < values[i - 1])

describe('conductorSize', () => {
  it('finds every listed id, and each id once', () => {
    expect(new Set(conductorSizeIds).size).toBe(conductorSizeIds.length)
    expect(conductorSizeIds).toHaveLength(metricSizes.length + americanSizes.length)
    for (const id of conductorSizeIds) expect(conductorSize(id).id).toBe(id)
  })

  it('knows the area that the id names', () => {
    expect(conductorSize('mm2-16').areaMm2).toBe(16)
    for (const size of metricSizes) expect(size.id).toBe(`mm2-${size.areaMm2}`)
    for (const size of americanSizes) {
      if (size.id.startsWith('kcmil-')) expect(size.circularMils).toBe(1000 * Number(size.id.slice(6)))
    }
    expect(conductorSize('awg-4-0').label).toBe('4/0 AWG')
  })

  it('treats an id that is none as a bug', () => {
    expect(() => conductorSize('mm2-17' as ConductorSizeId)).toThrow('no conductor size is called mm2-17')
  })
})

describe('the tables', () => {
  it('grow in area and fall in ohms from row to row', () => {
    expect(ascending(metricSizes.map((s) => s.areaMm2))).toBe(true)
    expect(descending(metricSizes.map((s) => s.copperClass2MaxOhmPerKm))).toBe(true)
    expect(descending(metricSizes.map((s) => s.tinnedCopperClass2MaxOhmPerKm))).toBe(true)
    expect(descending(metricSizes.map((s) => s.copperClass5MaxOhmPerKm))).toBe(true)
    expect(descending(metricSizes.map((s) => s.tinnedCopperClass5MaxOhmPerKm))).toBe(true)
    expect(descending(metricSizes.flatMap((s) => s.aluminiumMaxOhmPerKm ?? []))).toBe(true)
    expect(ascending(americanSizes.map((s) => s.areaMm2))).toBe(true)
    for (const key of ['copperOhmPerKft', 'coatedCopperOhmPerKft', 'aluminiumOhmPerKft'] as const) {
      expect(descending(americanSizes.map((s) => s.rows[0][key])), key).toBe(true)
    }
  })

  it('never let tin lower, or aluminium beat copper of the same size', () => {
    for (const s of metricSizes) {
      expect(s.tinnedCopperClass2MaxOhmPerKm, s.id).toBeGreaterThan(s.copperClass2MaxOhmPerKm)
      expect(s.tinnedCopperClass5MaxOhmPerKm, s.id).toBeGreaterThan(s.copperClass5MaxOhmPerKm)
      if (s.aluminiumMaxOhmPerKm !== null) {
        expect(s.aluminiumMaxOhmPerKm, s.id).toBeGreaterThan(s.tinnedCopperClass2MaxOhmPerKm)
      }
    }
    for (const row of americanSizes.flatMap((s) => s.rows)) {
      expect(row.coatedCopperOhmPerKft).toBeGreaterThan(row.copperOhmPerKft)
      expect(row.aluminiumOhmPerKft).toBeGreaterThan(row.coatedCopperOhmPerKft)
    }
  })

  it('give 14 to 8 AWG a solid and a stranded row, thicker sizes a stranded one', () => {
    for (const size of americanSizes) {
      const small = ['awg-14', 'awg-12', 'awg-10', 'awg-8'].includes(size.id)
      expect(
        size.rows.map((row) => row.strands),
        size.id,
      ).toEqual(small ? ['solid', 'stranded'] : ['stranded'])
    }
    for (const { rows } of americanSizes.filter((s) => s.rows.length === 2)) {
      expect(rows[1].copperOhmPerKft).toBeGreaterThan(rows[0].copperOhmPerKft)
      expect(rows[1].coatedCopperOhmPerKft).toBeGreaterThan(rows[0].coatedCopperOhmPerKft)
      expect(rows[1].aluminiumOhmPerKft).toBeGreaterThan(rows[0].aluminiumOhmPerKft)
    }
  })

  it('turn circular mils into square millimetres', () => {
    // a circle of one inch is a million circular mils
    expect(1e6 * circularMilMm2).toBeCloseTo(Math.PI * 12.7 * 12.7, 9)
    for (const s of americanSizes) expect(s.areaMm2 / s.circularMils).toBeCloseTo(circularMilMm2, 15)
  })
})
