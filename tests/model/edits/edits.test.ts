import { describe, expect, it } from 'vitest'
import { checkSite, siteNotices } from '../../../src/model/checkSite.ts'
import { addConductor, landPoint, removePoint } from '../../../src/model/edits/conductors.ts'
import { canInsertPoint, canLandPoint, canRemovePoint } from '../../../src/model/edits/conductors.ts'
import { clearDifferingJoint, setDifferingJoint } from '../../../src/model/edits/differingJoints.ts'
import {
  addEnclosure,
  changeElectrode,
  removeEarthBar,
  removeEnclosure,
} from '../../../src/model/edits/equipment.ts'
import { changeFacts, canRenameSite, renameSite } from '../../../src/model/edits/facts.ts'
import { canRemoveSource } from '../../../src/model/edits/faults.ts'
import {
  canChangeJointKind,
  canRemoveJointKind,
  changeJointKind,
} from '../../../src/model/edits/jointKinds.ts'
import { orphansOf, orphansOfTypeEdit } from '../../../src/model/edits/orphans.ts'
import {
  addPairs,
  canChangePair,
  canOrderPairs,
  changePair,
  layPairs,
  orderPairs,
  removePairs,
  requirePair,
} from '../../../src/model/edits/plans.ts'
import {
  addRow,
  canAddRow,
  canChangeRow,
  changeRow,
  copyRow,
  moveRows,
  removeRows,
} from '../../../src/model/edits/rows.ts'
import { setAccess } from '../../../src/model/edits/surroundings.ts'
import {
  canRemoveTable,
  insertTables,
  labelTable,
  removeTable,
  retypeTable,
} from '../../../src/model/edits/tables.ts'
import {
  addTableType,
  canAddTableType,
  canRemoveTableType,
  changeTableType,
} from '../../../src/model/edits/tableTypes.ts'
import { withRevision } from '../../../src/model/edits/withRevision.ts'
import type { Row } from '../../../src/model/schema/row.ts'
import { siteSchema } from '../../../src/model/schema/site.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { deepFreeze } from '../deepFreeze.ts'
import { exampleSite, fixedTilt, tracker, uuid } from '../exampleSite.ts'

const site = deepFreeze(exampleSite())
const rowOf = (s: Site, id: number): Row => s.drawing.rows.find((row) => row.id === id)!

function tablesOf(row: Row): number[] {
  return row.runs.flatMap(({ firstTable, count }) => Array.from({ length: count }, (_, k) => firstTable + k))
}

function expectValid(edited: Site) {
  expect(siteSchema.safeParse(edited).error?.issues).toBeUndefined()
  expect(checkSite(edited)).toEqual([])
}

const newRow = {
  label: 'C',
  originM: { x: 0, y: 30 },
  bearingDeg: 90,
  gapM: 0.2,
  type: 'tracker',
  tables: 4,
  links: { count: 1, kind: 'jumper' },
} as const

describe('rows', () => {
  it('come with ids that were never given, not even to a row removed since', () => {
    const edited = removeRows({ rows: [4] })(addRow(newRow)(site))
    const again = addRow(newRow)(edited)
    expect(again.drawing.rows.map(({ id }) => id)).toEqual([1, 3, 5])
    expectValid(again)
  })

  it('keep the identity of their neighbours and of every other section', () => {
    const edited = moveRows({ rows: [3], byM: { x: 1, y: -2 } })(site)
    expect(rowOf(edited, 3).originM).toEqual({ x: 1, y: 10.5 })
    expect(rowOf(edited, 1)).toBe(rowOf(site, 1))
    for (const key of Object.keys(site.drawing) as (keyof typeof site.drawing)[]) {
      if (key !== 'rows') expect(edited.drawing[key]).toBe(site.drawing[key])
    }
    expect(edited.record).toBe(site.record)
  })

  it('give the same site back when nothing changes or when the change cannot be made', () => {
    expect(moveRows({ rows: [3], byM: { x: 0, y: 0 } })(site)).toBe(site)
    expect(changeRow({ row: 1, changes: { label: 'A', originM: { x: 0, y: 0 } } })(site)).toBe(site)
    expect(changeRow({ row: 2, changes: { label: 'B' } })(site)).toBe(site)
    expect(canChangeRow(site, { row: 2, changes: {} })).toMatchObject({
      code: 'edit.notThere',
      facts: { id: '2' },
    })
    expect(changeRow({ row: 1, changes: { bearingDeg: 360 } })(site)).toBe(site)
    expect(canChangeRow(site, { row: 1, changes: { bearingDeg: 360 } })).toMatchObject({
      code: 'value.outOfRange',
      where: { path: ['drawing', 'rows', 0, 'bearingDeg'] },
    })
    expect(canAddRow(site, { ...newRow, type: 'none' })).toMatchObject({ code: 'reference.unknownName' })
    expect(canAddRow(site, { ...newRow, tables: 0 })).not.toBe(true)
  })

  it('are refused where the site would have more joints than are computed', () => {
    const large = { ...newRow, tables: 100_000 }
    // 29 joints a table and a jumper between: two rows of 100,000 are beyond five million.
    expect(canAddRow(site, large)).toBe(true)
    expect(canAddRow(addRow(large)(site), large)).toMatchObject({ code: 'size.tooManyJoints' })
  })

  it('are copied with their tables in order, numbered afresh', () => {
    const edited = copyRow({ row: 1, label: 'A2', originM: { x: 0, y: 40 } })(site)
    const copy = rowOf(edited, 4)
    expect(tablesOf(copy)).toEqual([1, 2, 3, 4])
    expect(copy.tableLabels).toEqual({})
    expectValid(edited)
  })

  it('take landings, extra joints and returns with them and leave everything recorded or planned', () => {
    const edited = removeRows({ rows: [1] })(site)
    expect(edited.drawing.conductors[0].points[0].landing).toBeNull()
    expect(edited.drawing.conductors[1]).toBe(site.drawing.conductors[1])
    expect(edited.drawing.extraJoints).toEqual([])
    expect(edited.drawing.plans).toBe(site.drawing.plans)
    expect(edited.record).toBe(site.record)
    expectValid(edited)
    const orphans = orphansOf(site, removeRows({ rows: [1] })).map(({ text }) => text)
    expect(orphans).toContain('R1/T1/L1.1')
    expect(orphans).toContain('R1/T2+T4~2')
    expect(orphans.filter((text) => text.startsWith('R3/'))).toEqual([])
    expect(siteNotices(edited).length).toBeGreaterThan(0)
  })
})

describe('tables', () => {
  it('are inserted without renumbering any', () => {
    const edited = insertTables({ row: 1, after: 1, type: 'fixed', tables: 2 })(site)
    expect(tablesOf(rowOf(site, 1))).toEqual([1, 2, 4, 3])
    expect(tablesOf(rowOf(edited, 1))).toEqual([1, 5, 6, 2, 4, 3])
    expect(rowOf(edited, 1).nextTable).toBe(7)
    expect(rowOf(edited, 1).tableLabels).toBe(rowOf(site, 1).tableLabels)
    expectValid(edited)
  })

  it('are put first and last, and go on a run where their ids and type do', () => {
    const first = insertTables({ row: 3, after: null, type: 'fixed', tables: 1 })(site)
    expect(tablesOf(rowOf(first, 3))).toEqual([4, 1, 2, 3])
    const last = insertTables({ row: 3, after: 3, type: 'tracker', tables: 2 })(site)
    expect(rowOf(last, 3).runs).toEqual([{ firstTable: 1, count: 5, type: 'tracker' }])
  })

  it('are removed with their label, but not the last one of a row', () => {
    const edited = removeTable({ row: 1, table: 1 })(site)
    expect(tablesOf(rowOf(edited, 1))).toEqual([2, 4, 3])
    expect(rowOf(edited, 1).tableLabels).toEqual({ '4': 'A-03' })
    expectValid(edited)
    const one = [2, 3].reduce((s, table) => removeTable({ row: 3, table })(s), site)
    expect(canRemoveTable(one, { row: 3, table: 1 })).toMatchObject({ code: 'value.inconsistent' })
    expect(insertTables({ row: 3, after: 1, type: 'tracker', tables: 1 })(one).drawing.rows[1].runs).toEqual([
      { firstTable: 1, count: 1, type: 'tracker' },
      { firstTable: 4, count: 1, type: 'tracker' },
    ])
  })

  it('change their type and their painted label alone', () => {
    const edited = retypeTable({ row: 3, table: 2, type: 'fixed' })(site)
    expect(rowOf(edited, 3).runs.map(({ type }) => type)).toEqual(['tracker', 'fixed', 'tracker'])
    expect(tablesOf(rowOf(edited, 3))).toEqual([1, 2, 3])
    expect(rowOf(labelTable({ row: 1, table: 3, label: 'A-04' })(site), 1).tableLabels['3']).toBe('A-04')
    expect(rowOf(labelTable({ row: 1, table: 1, label: '' })(site), 1).tableLabels).toEqual({ '4': 'A-03' })
    expect(labelTable({ row: 1, table: 1, label: 'A-01' })(site)).toBe(site)
  })
})

describe('table types', () => {
  const shorter = {
    ...fixedTilt,
    modules: { ...fixedTilt.modules, across: 3 },
    crossMembers: null,
    posts: null,
  }

  it('say beforehand what a new form would leave without a part or joint', () => {
    const orphans = orphansOfTypeEdit(site, shorter).map(({ text }) => text)
    expect(orphans).toEqual(['R1/T1/X1'])
    const unclamped = { ...fixedTilt, frameBond: { clamps: null, links: null } }
    const texts = orphansOfTypeEdit(site, unclamped).map(({ text, entry }) => [text, entry])
    expect(texts).toContainEqual(['R1/T1/F1.1~L1.2', uuid(110)])
    expect(orphansOfTypeEdit(site, { ...fixedTilt, name: 'other name' })).toEqual([])
  })

  it('change in all their tables, keeping what was recorded', () => {
    const edited = changeTableType(shorter)(site)
    expect(edited.drawing.extraJoints).toEqual([])
    expect(edited.drawing.rows).toBe(site.drawing.rows)
    expect(edited.record).toBe(site.record)
    expectValid(edited)
  })

  it('are refused twice under one name, malformed, or while tables are of them', () => {
    expect(canAddTableType(site, tracker)).toMatchObject({ code: 'reference.duplicateId' })
    const beyond = { ...tracker, id: 'x', posts: { ...tracker.posts!, stations: [7] } }
    expect(canAddTableType(site, beyond)).toMatchObject({ code: 'value.inconsistent' })
    expect(canRemoveTableType(site, { id: 'tracker' })).toMatchObject({
      code: 'edit.inUse',
      facts: { users: 3 },
    })
    expect(canRemoveTableType(removeRows({ rows: [3] })(site), { id: 'tracker' })).toBe(true)
  })
})

describe('equipment and conductors', () => {
  it('is removed with the landings on it', () => {
    const edited = removeEarthBar({ id: 1 })(site)
    const landings = edited.drawing.conductors.flatMap(({ points }) =>
      points.map((point) => point.landing?.part),
    )
    expect(landings).toEqual(['R1/T1/L1.1', undefined, 'E1', undefined, undefined, 'G1'])
    expect(edited.drawing.sources[1]).toMatchObject({ returnPart: null })
    expectValid(edited)
  })

  it('lets a conductor go that lands on a landing that is gone', () => {
    const chained = addConductor({
      label: '',
      material: 'copper',
      areaMm2: 6,
      size: null,
      closed: false,
      lengthM: null,
      points: [
        { atM: { x: 0, y: 0 }, landing: { part: 'C1.4', kind: 'crimpLug' } },
        { atM: { x: 1, y: 0 }, landing: { part: 'B1', kind: 'crimpLug' } },
      ],
    })(site)
    expectValid(chained)
    expect(chained.drawing.conductors[2].points.map(({ id }) => id)).toEqual([1, 2])
    const lifted = landPoint({ conductor: 1, point: 4, landing: null })(chained)
    expect(lifted.drawing.conductors[2].points[0].landing).toBeNull()
    expectValid(lifted)
    expectValid(removeEnclosure({ id: 1 })(chained))
  })

  it('refuses to land on what is not there', () => {
    const landing = { part: 'R1/T1/L1.6', kind: 'crimpLug' }
    expect(canLandPoint(site, { conductor: 1, point: 2, landing })).toMatchObject({
      code: 'reference.noSuchPart',
      facts: { nearest: 'R1/T1/L1.5' },
    })
    const at = { atM: { x: 0, y: 0 }, landing: { part: 'x', kind: 'crimpLug' } }
    expect(canInsertPoint(site, { conductor: 1, after: null, at })).toMatchObject({
      code: 'reference.badAddress',
    })
  })

  it('keeps two points to a conductor', () => {
    expect(canRemovePoint(site, { conductor: 2, point: 1 })).toMatchObject({ code: 'value.inconsistent' })
    const edited = removePoint({ conductor: 1, point: 2 })(site)
    expect(edited.drawing.conductors[0].points.map(({ id }) => id)).toEqual([1, 4, 3])
  })

  it('adds and changes single items', () => {
    const added = addEnclosure({ label: 'x', atM: { x: 1, y: 1 }, widthM: 1, depthM: 1, bearingDeg: 0 })(site)
    expect(added.drawing.enclosures.map(({ id }) => id)).toEqual([1, 2])
    expect(added.drawing.nextIds.enclosure).toBe(3)
    const measured = changeElectrode({ id: 2, changes: { measuredOhm: 12 } })(site)
    expect(measured.drawing.electrodes[1]).toMatchObject({ measuredOhm: 12, form: 'plate' })
    expect(measured.drawing.electrodes[0]).toBe(site.drawing.electrodes[0])
    expect(changeElectrode({ id: 2, changes: { measuredOhm: null } })(site)).toBe(site)
  })
})

describe('joints that differ', () => {
  it('are told once, in whatever order their ends are written', () => {
    const absent = { change: 'absent', kind: null, medianOhm: null } as const
    const edited = setDifferingJoint({ joint: 'R3/T2/P1.2~L1.3', ...absent })(site)
    expect(edited.drawing.differingJoints).toHaveLength(2)
    expect(edited.drawing.differingJoints[1]).toEqual({ joint: 'R3/T2/L1.3~P1.2', ...absent })
    expect(clearDifferingJoint({ joint: 'R3/T2/P1.2~L1.3' })(edited).drawing.differingJoints).toHaveLength(1)
  })
})

describe('catalogue, facts, plans', () => {
  it('keeps kinds that something names and medians that something needs', () => {
    expect(canRemoveJointKind(site, { id: 'frameClamp' })).toMatchObject({
      code: 'edit.inUse',
      facts: { users: 2 },
    })
    expect(canRemoveJointKind(site, { id: 'splice' })).toMatchObject({ code: 'edit.inUse' })
    expect(canRemoveJointKind(site, { id: 'wire' })).toMatchObject({ code: 'edit.inUse' })
    expect(canRemoveJointKind(site, { id: 'weld' })).toBe(true)
    expect(canChangeJointKind(site, { id: 'frameClamp', changes: { medianOhm: null } })).toMatchObject({
      code: 'value.inconsistent',
    })
    const edited = changeJointKind({ id: 'frameClamp', changes: { medianOhm: 0.002 } })(site)
    expect(edited.drawing.jointKinds[0].medianOhm).toBe(0.002)
    expect(edited.drawing.jointKinds[1]).toBe(site.drawing.jointKinds[1])
    expect(canRemoveSource(site, { id: 'string1' })).toMatchObject({ code: 'edit.inUse' })
  })

  it('changes facts, access and the name, the same object back when nothing changes', () => {
    expect(changeFacts({ soilOhmM: 300 })(site).drawing.facts.soilOhmM).toBe(300)
    expect(changeFacts({ soilOhmM: 100 })(site)).toBe(site)
    expect(changeFacts({ soilOhmM: -1 })(site)).toBe(site)
    expect(renameSite({ name: 'x' })(site).drawing).toBe(site.drawing)
    expect(canRenameSite(site, { name: 'x'.repeat(201) })).toMatchObject({ code: 'value.outOfRange' })
    const frames = { part: 'frame', reachable: false, surface: 'coated' } as const
    expect(setAccess(frames)(site).drawing.access[0]).toEqual(frames)
    expect(setAccess(site.drawing.access[0])(site)).toBe(site)
  })

  it('numbers pairs on, whatever was taken out', () => {
    const removed = removePairs({ plan: 'firstTest', pairs: [3] })(site)
    const pair = { from: 'B1', to: 'E1', required: false }
    const added = addPairs({ plan: 'firstTest', pairs: [pair, { ...pair, to: 'G1' }] })(removed)
    expect(added.drawing.plans[0].pairs.map(({ id }) => id)).toEqual([1, 4, 5])
    const ordered = orderPairs({ plan: 'firstTest', order: [5, 1, 4] })(added)
    expect(ordered.drawing.plans[0].pairs.map(({ id }) => id)).toEqual([5, 1, 4])
    expect(canOrderPairs(added, { plan: 'firstTest', order: [5, 1] })).toMatchObject({
      code: 'value.inconsistent',
    })
    expect(canOrderPairs(added, { plan: 'firstTest', order: [5, 1, 1] })).toMatchObject({
      code: 'value.inconsistent',
    })
    expect(canOrderPairs(added, { plan: 'firstTest', order: [5, 1, 9] })).toMatchObject({
      code: 'edit.notThere',
    })
    expect(requirePair({ plan: 'firstTest', pair: 1, required: true })(site)).toBe(site)
    expectValid(ordered)
  })

  it('notes the step and the point of a pair', () => {
    const changes = { step: '4.2', point: 'hold' } as const
    const changed = changePair({ plan: 'firstTest', pair: 1, changes })(site)
    expect(changed.drawing.plans[0].pairs.find(({ id }) => id === 1)).toMatchObject(changes)
    expect(changePair({ plan: 'firstTest', pair: 1, changes })(changed)).toBe(changed)
    expect(canChangePair(site, { plan: 'firstTest', pair: 99, changes })).toMatchObject({
      code: 'edit.notThere',
    })
    expectValid(changed)
  })

  it('lays other pairs: what was asked for stays, and a pair between the same parts stays that pair', () => {
    const start = addPairs({
      plan: 'firstTest',
      pairs: [
        { from: 'E1', to: 'G1', required: true, step: '7', point: 'witness' },
        { from: 'B1', to: 'G1', required: false, step: '8' },
        { from: 'B1', to: 'E1', required: false },
      ],
    })(removePairs({ plan: 'firstTest', pairs: site.drawing.plans[0].pairs.map(({ id }) => id) })(site))
    const [asked, kept] = start.drawing.plans[0].pairs
    const laid = layPairs({
      plan: 'firstTest',
      pairs: [
        { from: 'G1', to: 'B1', required: true },
        { from: 'B1', to: 'C1.1', required: false },
      ],
    })(start)
    expect(laid.drawing.plans[0].pairs).toEqual([
      asked,
      { ...kept, from: 'G1', to: 'B1', required: true },
      {
        id: start.drawing.plans[0].nextPair,
        from: 'B1',
        to: 'C1.1',
        required: false,
        step: '',
        point: 'none',
      },
    ])
    expect(laid.drawing.plans[0].nextPair).toBe(start.drawing.plans[0].nextPair + 1)
    expectValid(laid)
  })
})

describe('withRevision', () => {
  it('remembers the revision that the drawing was made from', () => {
    const { drawing } = withRevision(addTableType({ ...tracker, id: 'other' })(site), uuid(77))
    expect([drawing.revision, drawing.parent]).toEqual([uuid(77), site.drawing.revision])
  })
})
