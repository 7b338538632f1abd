import { describe, expect, it } from 'vitest'
import { checkSite } from '../../../src/model/checkSite.ts'
import {
  clearFoundJoint,
  canClearFoundJoint,
  canSetFoundJoint,
  foundOfJoint,
  setFoundJoint,
} from '../../../src/model/edits/foundJoints.ts'
import { orphansOf } from '../../../src/model/edits/orphans.ts'
import { removeItems } from '../../../src/model/edits/removeItems.ts'
import {
  canSetRowTables,
  canReplaceRowType,
  replaceRowType,
  setRowTables,
} from '../../../src/model/edits/rowTables.ts'
import { countOrphans } from '../../../src/model/queries/countOrphans.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { deepFreeze } from '../deepFreeze.ts'
import { exampleSite } from '../exampleSite.ts'

const site = deepFreeze(exampleSite())
const rowOf = (s: Site, id: number) => s.drawing.rows.find((row) => row.id === id)!
const tablesOf = (s: Site, id: number) =>
  rowOf(s, id).runs.flatMap(({ firstTable, count }) =>
    Array.from({ length: count }, (_, k) => firstTable + k),
  )

describe('the tables of a row', () => {
  it('become more at its end, with ids of their own', () => {
    const longer = setRowTables({ row: 1, tables: 6 })(site)
    expect(tablesOf(longer, 1)).toEqual([1, 2, 4, 3, 5, 6])
    expect(rowOf(longer, 1).nextTable).toBe(7)
    expect(rowOf(longer, 3)).toBe(rowOf(site, 3))
    const other = setRowTables({ row: 1, tables: 5, type: 'tracker' })(site)
    expect(rowOf(other, 1).runs.at(-1)).toEqual({ firstTable: 5, count: 1, type: 'tracker' })
    for (const edited of [longer, other]) expect(checkSite(edited)).toEqual([])
  })

  it('become fewer from its end, letting go what was fastened there', () => {
    const shorter = setRowTables({ row: 1, tables: 2 })(site)
    expect(tablesOf(shorter, 1)).toEqual([1, 2])
    expect(rowOf(shorter, 1)).toMatchObject({ nextTable: 5, tableLabels: { '1': 'A-01' } })
    expect(rowOf(shorter, 1).tableLabels).not.toHaveProperty('4')
    expect(checkSite(shorter)).toEqual([])
    // The ids of tables that went do not come back.
    expect(tablesOf(setRowTables({ row: 1, tables: 3 })(shorter), 1)).toEqual([1, 2, 5])
    const bare = setRowTables({ row: 3, tables: 1 })(site)
    expect(bare.drawing.extraJoints).toBe(site.drawing.extraJoints)
  })

  it('are one at least and a whole number', () => {
    for (const tables of [0, -1, 2.5, NaN]) {
      expect(canSetRowTables(site, { row: 1, tables })).toMatchObject({ code: 'value.outOfRange' })
    }
    expect(canSetRowTables(site, { row: 1, tables: 1_000_000 })).not.toBe(true)
    expect(canSetRowTables(site, { row: 2, tables: 1 })).toMatchObject({ code: 'edit.notThere' })
    expect(setRowTables({ row: 1, tables: 4 })(site)).toBe(site)
  })

  it('change their type together or only those of one type; ids and labels stay', () => {
    const edited = replaceRowType({ rows: [1, 3], type: 'tracker' })(site)
    expect(rowOf(edited, 1).runs).toEqual([
      { firstTable: 1, count: 2, type: 'tracker' },
      { firstTable: 4, count: 1, type: 'tracker' },
      { firstTable: 3, count: 1, type: 'tracker' },
    ])
    expect(rowOf(edited, 1).tableLabels).toBe(rowOf(site, 1).tableLabels)
    expect(rowOf(edited, 3)).toBe(rowOf(site, 3))
    // The new type has no cross member, on which the extra joint ended.
    expect(edited.drawing.extraJoints).toEqual([])
    expect(checkSite(edited)).toEqual([])
    expect(replaceRowType({ rows: [1, 3], type: 'fixed', instead: 'none' })(site)).toBe(site)
    expect(
      replaceRowType({ rows: [3], type: 'fixed', instead: 'tracker' })(site).drawing.rows[1].runs[0].type,
    ).toBe('fixed')
    expect(canReplaceRowType(site, { rows: [1], type: 'none' })).toMatchObject({
      code: 'reference.unknownName',
    })
    expect(canReplaceRowType(site, { rows: [2], type: 'fixed' })).toMatchObject({ code: 'edit.notThere' })
  })
})

describe('a joint found otherwise', () => {
  const other = { found: 'other', kind: null, medianOhm: 0.3, on: '2026-05-05', note: 'rust' } as const

  it('replaces what was said of it before, however it is written, and keeps that id', () => {
    const joint = 'R1/T1/L1.2~F1.1'
    const edited = setFoundJoint({ joint, ...other })(site)
    expect(edited.drawing.asBuilt[0]).toEqual({
      id: 1,
      found: { form: 'jointOther', joint: 'R1/T1/F1.1~L1.2', kind: null, medianOhm: 0.3 },
      on: '2026-05-05',
      note: 'rust',
    })
    expect(edited.drawing.asBuilt.slice(1)).toEqual(site.drawing.asBuilt.slice(1))
    expect(checkSite(edited)).toEqual([])
    expect(setFoundJoint({ joint, ...other })(edited)).toBe(edited)
    expect(foundOfJoint(edited.drawing.asBuilt, joint)?.id).toBe(1)
    const cleared = clearFoundJoint({ joint })(edited)
    expect(cleared.drawing.asBuilt.map(({ id }) => id)).toEqual([2, 3, 4])
    expect(canClearFoundJoint(cleared, { joint })).toMatchObject({ code: 'edit.notThere' })
  })

  it('is added with the next id where nothing was said, and needs a kind or ohms unless it is absent', () => {
    const joint = 'R3/T1/F1.1~L1.1'
    const absent = setFoundJoint({ joint, ...other, found: 'absent' })(site)
    expect(absent.drawing.asBuilt.at(-1)).toMatchObject({ id: 5, found: { form: 'jointAbsent', joint } })
    expect(absent.drawing.nextIds.asBuilt).toBe(6)
    expect(checkSite(absent)).toEqual([])
    expect(canSetFoundJoint(site, { joint, ...other, medianOhm: null })).toMatchObject({
      code: 'value.inconsistent',
    })
    expect(canSetFoundJoint(site, { joint: 'x', ...other })).toMatchObject({ code: 'reference.badAddress' })
  })
})

it('orphans are counted by what holds them, each holder once', () => {
  const edit = removeItems({
    items: [
      { sort: 'row', id: 1 },
      { sort: 'enclosure', id: 1 },
    ],
  })
  expect(countOrphans(site, orphansOf(site, edit))).toEqual({
    readings: 1,
    voltages: 1,
    looks: 1,
    repairs: 1,
    notes: 1,
    corrections: 1,
    planPairs: 1,
    differingJoints: 1,
    asBuilt: 2,
    lessonSteps: 2,
    landings: 2,
    extraJoints: 1,
    sources: 0,
  })
  const bar = removeItems({ items: [{ sort: 'earthBar', id: 1 }] })
  // Reading 6 was withdrawn; it is stored all the same.
  expect(countOrphans(site, orphansOf(site, bar))).toMatchObject({
    readings: 3,
    planPairs: 2,
    landings: 2,
    sources: 1,
  })
})
