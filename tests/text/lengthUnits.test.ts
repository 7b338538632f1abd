import { describe, expect, it } from 'vitest'
import { areaUnitOf, lengthUnitsOf, toLengthUnit, writeLength } from '../../src/text/lengthUnits.ts'

describe('lengths of a drawing', () => {
  it('are written as they were drawn', () => {
    expect(writeLength(1.13, 'm')).toBe('1.13 m')
    expect(writeLength(0.485, 'mm')).toBe('485 mm')
    expect(writeLength(2.278, 'in')).toBe('89.685 in')
    expect(writeLength(4.579999999999999, 'm')).toBe('4.58 m')
  })

  it('has the usual unit of the site first', () => {
    expect(lengthUnitsOf('metric')).toEqual(['m', 'mm'])
    expect(lengthUnitsOf('us')).toEqual(['ft', 'in'])
    expect(toLengthUnit(1.1303, 'in')).toBe(44.5)
  })

  it('has areas in the unit of the site', () => {
    expect(areaUnitOf('us')).toEqual({ symbol: 'in²', mm2: 645.16 })
    expect(areaUnitOf('metric').mm2).toBe(1)
  })
})
