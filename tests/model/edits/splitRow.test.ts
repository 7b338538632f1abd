import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { tableCornerM } from '../../../src/layout/itemAnchors.ts'
import { partIndexOf } from '../../../src/layout/partIndex.ts'
import { partPositionM } from '../../../src/layout/positions.ts'
import { parsePartAddress } from '../../../src/model/address.ts'
import { checkSite } from '../../../src/model/checkSite.ts'
import { orphansOf } from '../../../src/model/edits/orphans.ts'
import { canSplitRow, splitRow } from '../../../src/model/edits/splitRow.ts'
import { tableAt, tableCount } from '../../../src/model/queries/tablePosition.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { indexOf } from '../../layout/smallDrawings.ts'
import { deepFreeze } from '../deepFreeze.ts'
import { exampleSite } from '../exampleSite.ts'
import { anySite } from './anySite.ts'

const site = deepFreeze(exampleSite())

function placeOf(of: Site, part: string) {
  const index = indexOf(of.drawing)
  return partPositionM(index, partIndexOf(index, parsePartAddress(part)!))!
}

describe('splitting a row', () => {
  it('makes a row of the tables behind one, which stay where they stand and keep their numbers', () => {
    const originM = tableCornerM(indexOf(site.drawing), 3, 2)!
    const edited = splitRow({ row: 3, afterTable: 1, originM })(site)
    expect(checkSite(edited)).toEqual([])
    expect(edited.drawing.rows.map(({ id, label }) => [id, label])).toEqual([
      [1, 'A'],
      [3, 'B'],
      [4, 'B 2'],
    ])
    expect(edited.drawing.rows[1].runs).toEqual([{ firstTable: 1, count: 1, type: 'tracker' }])
    expect(edited.drawing.rows[2]).toMatchObject({
      runs: [{ firstTable: 2, count: 2, type: 'tracker' }],
      nextTable: 4,
    })
    const before = placeOf(site, 'R3/T3/F1.2')
    const after = placeOf(edited, 'R4/T3/F1.2')
    expect(after.x).toBeCloseTo(before.x, 3)
    expect(after.y).toBeCloseTo(before.y, 3)
    // What the drawing says of table 2 goes with it; what is said of table 1 stays.
    expect(edited.drawing.differingJoints.map(({ joint }) => joint)).toEqual([
      'R1/T2+T4~2',
      'R4/T2/L1.3~P1.2',
    ])
    expect(edited.drawing.asBuilt[2].found).toMatchObject({ from: 'R3/T1/L1.6', to: 'R4/T2/L1.1' })
    expect(edited.drawing.extraJoints).toBe(site.drawing.extraJoints)
    expect(edited.drawing.conductors).toBe(site.drawing.conductors)
    expect(edited.drawing.plans).toBe(site.drawing.plans)
    expect(edited.record).toBe(site.record)
  })

  it('takes landings, plans and labels along, and tells what the record loses', () => {
    const originM = tableCornerM(indexOf(site.drawing), 1, 4)!
    const edit = splitRow({ row: 1, afterTable: 2, originM })
    const edited = edit(site)
    expect(checkSite(edited)).toEqual([])
    expect(edited.drawing.rows.map(({ tableLabels }) => tableLabels)).toEqual([
      { 1: 'A-01' },
      { 4: 'A-03' },
      {},
    ])
    expect(edited.drawing.differingJoints[0]).toBe(site.drawing.differingJoints[0])
    expect(orphansOf(site, edit).map(({ text }) => text)).toEqual(['R1/T2+T4~2'])
  })

  it('is refused behind the last table, and where there is none', () => {
    const originM = { x: 0, y: 0 }
    expect(canSplitRow(site, { row: 1, afterTable: 3, originM })).toMatchObject({
      code: 'value.inconsistent',
    })
    expect(canSplitRow(site, { row: 1, afterTable: 9, originM })).toMatchObject({ code: 'edit.notThere' })
    expect(canSplitRow(site, { row: 9, afterTable: 1, originM })).toMatchObject({ code: 'edit.notThere' })
  })

  it('of any site lets nothing of the drawing go but the jumpers between', () => {
    fc.assert(
      fc.property(anySite, fc.nat(5), (site, at) => {
        const row = site.drawing.rows[0]
        fc.pre(tableCount(row) > 1)
        const position = at % (tableCount(row) - 1)
        const afterTable = tableAt(row, position)!.table
        const originM = tableCornerM(indexOf(site.drawing), row.id, tableAt(row, position + 1)!.table)!
        const edited = deepFreeze(splitRow({ row: row.id, afterTable, originM })(site))
        expect(checkSite(edited)).toEqual([])
        const landings = ({ drawing }: Site) =>
          drawing.conductors.flatMap(({ points }) => points.map(({ landing }) => landing !== null))
        expect(landings(edited)).toEqual(landings(site))
        expect(edited.drawing.extraJoints).toHaveLength(site.drawing.extraJoints.length)
      }),
      { numRuns: 60, seed: 9 },
    )
  })
})
