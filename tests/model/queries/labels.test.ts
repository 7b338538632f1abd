import { describe, expect, it } from 'vitest'
import { parsePartAddress } from '../../../src/model/address.ts'
import { paintedLabel } from '../../../src/model/queries/labels.ts'
import { siteCounts } from '../../../src/model/queries/siteCounts.ts'
import { exampleSite } from '../exampleSite.ts'

const site = exampleSite()
const labelOf = (text: string) => paintedLabel(site.drawing, parsePartAddress(text)!)

describe('painted labels', () => {
  it('are those of row and table, or of the item', () => {
    expect(labelOf('R1/T4/F1.1')).toEqual({ row: 'A', table: 'A-03', item: null })
    expect(labelOf('R1/T2/F1.1')).toEqual({ row: 'A', table: null, item: null })
    expect(labelOf('B1')).toEqual({ row: null, table: null, item: 'main bar' })
    expect(labelOf('C2.1').item).toBe('bar to rod')
    expect(labelOf('E9').item).toBeNull()
  })
})

describe('counts', () => {
  it('of the example site are what counting by hand gives', () => {
    const counts = siteCounts(site)
    // 4 tables of 2 × 4 and 3 of 1 × 5; of four readings one is withdrawn.
    expect(counts).toMatchObject({ rows: 2, tables: 7, modules: 47, visits: 1, readings: 3 })
    // fixed: 8 frames, 4 members of 5 pieces, 2 cross members, 6 posts; tracker: 5 frames, 6 pieces, 3 posts;
    // an enclosure, a bar, 3 electrodes, 3 and 2 conductor stops.
    expect(counts.parts).toBe(4 * 36 + 3 * 14 + 1 + 1 + 3 + 5)
    // fixed: 16 clamps, 16 pieces joined, 8 brackets, 12 post bonds, 6 earth paths; tracker: 10 clamps, 4 links,
    // 5 pieces joined, 3 post bonds, 3 earth paths; 6 jumpers in row A, 5 lugs, 3 wires, 3 electrodes, one extra, one found.
    expect(counts.joints).toBe(4 * 58 + 3 * 25 + 6 + 5 + 3 + 3 + 1 + 1)
  })
})
