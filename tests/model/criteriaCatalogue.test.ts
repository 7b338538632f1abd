import { describe, expect, it } from 'vitest'
import { catalogueRowOf, criteriaCatalogue } from '../../src/model/criteriaCatalogue.ts'
import { criterionSchema } from '../../src/model/schema/planning.ts'

describe('the catalogue of criteria', () => {
  it('has rows that a site can hold, each with a source of its own kind and an id of its own', () => {
    for (const { criterion } of criteriaCatalogue) {
      expect(criterionSchema.safeParse(criterion).success, criterion.id).toBe(true)
      expect(criterion.source.length, criterion.id).toBeGreaterThan(10)
      expect(criterion.againstPairs, criterion.id).toBe(false)
    }
    expect(new Set(criteriaCatalogue.map(({ criterion }) => criterion.id)).size).toBe(
      criteriaCatalogue.length,
    )
  })

  it('keeps bonding, electrodes and type tests apart, and lists sources that set no level', () => {
    for (const { criterion, kindOfTest } of criteriaCatalogue) {
      expect(kindOfTest === 'typeTest', criterion.id).toBe(criterion.quantity === 'typeTest')
      expect(kindOfTest === 'electrode', criterion.id).toBe(criterion.quantity === 'electrodeToEarth')
    }
    const unlimited = criteriaCatalogue.filter(({ criterion }) => criterion.investigateAboveOhm === null)
    expect(unlimited.map(({ criterion }) => criterion.id)).toContain('iec-62446-1-continuity')
    for (const { note } of unlimited) expect(note).toMatch(/^No numeric limit/)
  })

  it('finds the row of a criterion whose levels or name were changed, and none for one of the site', () => {
    for (const row of criteriaCatalogue.filter(({ currentAskedWithinOhm }) => currentAskedWithinOhm)) {
      const changed = {
        ...row.criterion,
        id: 'x',
        name: 'x',
        clause: 'contract 7.2',
        investigateAboveOhm: 0.3,
      }
      expect(catalogueRowOf(changed)).toBe(row)
      expect(catalogueRowOf({ ...changed, source: 'ours' })).toBeNull()
    }
  })
})
