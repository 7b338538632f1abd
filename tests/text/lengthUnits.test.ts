import { describe, expect, it } from 'vitest'
import {
  areaUnitOf,
  fromLengthUnit,
  lengthUnitsOf,
  toLengthUnit,
  writeLength,
} from '../../src/text/lengthUnits.ts'

describe('lengths of a drawing', () => {
  it('are written as they were drawn', () => {
    expect(writeLength(1.13, 'm')).toBe('1.13 m')
    expect(writeLength(0.485, 'mm')).toBe('485 mm')
    expect(writeLength(2.278, 'in')).toBe('89.685 in')
    expect(writeLength(4.579999999999999, 'm')).toBe('4.58 m')
  })

  it('come back as they were typed', () => {
    for (const unit of [...lengthUnitsOf('metric'), ...lengthUnitsOf('us')]) {
      for (let k = 1; k <= 400; k++) {
        const typed = unit === 'mm' ? k / 2 : k / 4
        expect(toLengthUnit(fromLengthUnit(typed, unit), unit), `${typed} ${unit}`).toBeCloseTo(typed, 3)
      }
    }
    expect(fromLengthUnit(2278, 'mm')).toBe(2.278)
  })

  it('has areas in the unit of the site', () => {
    expect(areaUnitOf('us')).toEqual({ symbol: 'in²', mm2: 645.16 })
    expect(areaUnitOf('metric').mm2).toBe(1)
  })
})
