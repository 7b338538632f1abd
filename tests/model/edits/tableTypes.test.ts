import { describe, expect, it } from 'vitest'
import { canCopyTableType, copyTableType, countTablesOfType } from '../../../src/model/edits/tableTypes.ts'
import { canAddTableType, canRemoveTableType, freeTypeId } from '../../../src/model/edits/tableTypes.ts'
import { deepFreeze } from '../deepFreeze.ts'
import { exampleSite } from '../exampleSite.ts'

const site = deepFreeze(exampleSite())
const type = site.drawing.tableTypes[0]

describe('copying a table type', () => {
  it('gives the same type under another name and an id that no other has', () => {
    const once = copyTableType({ id: type.id, name: 'South end' })(site)
    const copy = once.drawing.tableTypes.at(-1)!
    expect(copy).toEqual({ ...type, id: 'south-end', name: 'South end' })
    const twice = copyTableType({ id: type.id, name: 'South end' })(once)
    expect(twice.drawing.tableTypes.at(-1)!.id).toBe('south-end-2')
    expect(canRemoveTableType(twice, { id: 'south-end' })).toBe(true)
  })

  it('says so when there is no such type', () => {
    expect(canCopyTableType(site, { id: 'none', name: 'x' })).toMatchObject({ code: 'edit.notThere' })
    expect(copyTableType({ id: 'none', name: 'x' })(site)).toBe(site)
  })

  it.each([
    ['2 high × 10, portrait', 'type-2-high-10-portrait'],
    ['Δ', 'type'],
    ['', 'type'],
    ['Südreihe Nº 4', 'sudreihe-no-4'],
    ['x'.repeat(200), 'x'.repeat(34)],
  ])('makes a short name of %s', (name, id) => {
    expect(freeTypeId(site, name)).toBe(id)
    expect(canAddTableType(site, { ...type, id })).toBe(true)
  })

  it('counts the tables of a type', () => {
    const counted = site.drawing.tableTypes.map(({ id }) => countTablesOfType(site, id))
    const tables = site.drawing.rows.flatMap(({ runs }) => runs.map(({ count }) => count))
    expect(counted.reduce((sum, count) => sum + count, 0)).toBe(tables.reduce((sum, count) => sum + count, 0))
    expect(countTablesOfType(site, 'none')).toBe(0)
  })
})
