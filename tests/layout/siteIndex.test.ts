import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { jointAddressAt, jointIndexOf } from '../../src/layout/jointIndex.ts'
import { partAddressAt, partIndexOf, partKindAt, partKinds } from '../../src/layout/partIndex.ts'
import { partKindNames } from '../../src/layout/partKinds.ts'
import type { SiteIndex } from '../../src/layout/siteIndex.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import type { PatternCache } from '../../src/layout/tablePattern.ts'
import {
  parseJointAddress,
  parsePartAddress,
  writeJointAddress,
  writePartAddress,
} from '../../src/model/address.ts'
import { countJoints, countParts } from '../../src/model/countJoints.ts'
import { jointExists, partExists } from '../../src/model/presence.ts'
import { exampleSite } from '../model/exampleSite.ts'
import { anyDrawing } from './anyDrawing.ts'
import { drawingOf, indexOf, modulesOf, railOf, rowOf, typeOf } from './smallDrawings.ts'

const partAt = (index: SiteIndex, text: string) => partIndexOf(index, parsePartAddress(text)!)
const jointAt = (index: SiteIndex, text: string) => jointIndexOf(index, parseJointAddress(text)!)
const partNames = (index: SiteIndex) =>
  Array.from({ length: index.partCount + 1 }, (_, i) => writePartAddress(partAddressAt(index, i)))
const jointNames = (index: SiteIndex) =>
  Array.from({ length: index.jointCount }, (_, j) => writeJointAddress(jointAddressAt(index, j)))

/** Number → address → text → address → number, and every name once. */
function expectRoundTrips(index: SiteIndex): void {
  const parts = partNames(index)
  expect(new Set(parts).size).toBe(index.partCount + 1)
  expect(parts.map((text) => partAt(index, text))).toEqual([...parts.keys()])
  const joints = jointNames(index)
  expect(new Set(joints).size).toBe(index.jointCount)
  expect(joints.map((text) => jointAt(index, text))).toEqual([...joints.keys()])
}

describe('a small drawing', () => {
  // row 4, two tables of one frame on one rail, jumper between them; table 9 was put in before table 2
  //
  //   T9: F1.1        T2: F1.1
  //    L1.1-L1.2 ==== L1.1-L1.2
  const drawing = drawingOf({
    tableTypes: [
      typeOf({
        modules: modulesOf({ across: 1 }),
        frameBond: { clamps: { perMember: 1, kind: 'frameClamp' }, links: null },
      }),
    ],
    rows: [
      rowOf({
        id: 4,
        runs: [
          { firstTable: 9, count: 1, type: 'plain' },
          { firstTable: 2, count: 1, type: 'plain' },
        ],
        links: { count: 1, kind: 'jumper' },
      }),
    ],
    enclosures: [{ id: 3, label: '', atM: { x: 0, y: 0 }, widthM: 1, depthM: 1, bearingDeg: 0 }],
    earthBars: [{ id: 8, label: '', atM: { x: 0, y: 0 } }],
    electrodes: [
      { id: 5, label: '', measuredOhm: 10, form: 'rod', atM: { x: 0, y: 0 }, lengthM: 2, diameterM: 0.02 },
    ],
    conductors: [
      {
        id: 6,
        label: '',
        material: 'copper',
        areaMm2: 16,
        size: null,
        closed: false,
        points: [
          { id: 2, atM: { x: 0, y: 0 }, landing: { part: 'B8', kind: 'crimpLug' } },
          { id: 7, atM: { x: 1, y: 0 }, landing: null },
          { id: 1, atM: { x: 2, y: 0 }, landing: { part: 'E3', kind: 'crimpLug' } },
          { id: 3, atM: { x: 3, y: 0 }, landing: null },
        ],
        nextPoint: 8,
        lengthM: null,
      },
    ],
    extraJoints: [{ id: 2, label: '', from: 'E3', to: 'G5', kind: 'weld', medianOhm: null }],
    asBuilt: [
      { id: 4, found: { form: 'other', about: 'E3' }, on: null, note: '' },
      {
        id: 1,
        found: { form: 'jointAdded', from: 'E3', to: 'B8', kind: 'jumper', medianOhm: null },
        on: null,
        note: '',
      },
    ],
  })

  it('has its parts in the order rows, enclosures, bars, electrodes, conductor points, remote earth', () => {
    expect(partNames(indexOf(drawing))).toEqual([
      'R4/T9/F1.1',
      'R4/T9/L1.1',
      'R4/T9/L1.2',
      'R4/T2/F1.1',
      'R4/T2/L1.1',
      'R4/T2/L1.2',
      'E3',
      'B8',
      'G5',
      'C6.2',
      'C6.1',
      'C6.3',
      'earth',
    ])
  })

  it('has its joints in the order tables, jumpers, conductors, extra, added, earth paths', () => {
    expect(jointNames(indexOf(drawing))).toEqual([
      'R4/T9/F1.1~L1.2',
      'R4/T9/L1.1~L1.2',
      'R4/T2/F1.1~L1.2',
      'R4/T2/L1.1~L1.2',
      'R4/T9+T2~1',
      'C6.2~lug',
      'C6.2~wire',
      'C6.1~lug',
      'C6.1~wire',
      'J2',
      'A1',
      'G5~earth',
    ])
  })

  it('finds a table joint from either end, and a jumper in row order only', () => {
    const index = indexOf(drawing)
    const ends = { at: 'table' as const, row: 4, table: 2, parallel: 1 }
    const frame = { of: 'frame' as const, high: 1, across: 1 }
    const rail = { of: 'longMember' as const, member: 1, station: 2 }
    expect(jointIndexOf(index, { ...ends, from: frame, to: rail })).toBe(2)
    expect(jointIndexOf(index, { ...ends, from: rail, to: frame })).toBe(2)
    expect(jointAt(index, 'R4/T2+T9~1')).toBe(-1)
  })

  it.each([
    'R4/T1/F1.1',
    'R4/T3/F1.1',
    'R5/T2/F1.1',
    'R4/T2/F1.2',
    'R4/T2/F2.1',
    'R4/T2/L1.3',
    'R4/T2/L2.1',
    'R4/T2/X1',
    'R4/T2/P1.1',
    'E8',
    'B3',
    'G1',
    'C6.7',
    'C6.4',
    'C5.1',
  ])('has no part %s', (text) => expect(partAt(indexOf(drawing), text)).toBe(-1))

  it.each([
    'R4/T9/F1.1~L1.1',
    'R4/T9/F1.1~L1.2~2',
    'R4/T9+T2~2',
    'R4/T2+T3~1',
    'C6.3~lug',
    'C6.3~wire',
    'C6.7~wire',
    'J1',
    'A4',
    'A2',
    'E3~earth',
    'R4/T9/F1.1~earth',
    'C6.1~earth',
  ])('has no joint %s', (text) => expect(jointAt(indexOf(drawing), text)).toBe(-1))

  it('of a closed conductor the last point has a wire back to the first', () => {
    const [conductor] = drawing.conductors
    const index = indexOf({ ...drawing, conductors: [{ ...conductor, closed: true }] })
    expect(jointNames(index).filter((text) => text.endsWith('wire'))).toEqual([
      'C6.2~wire',
      'C6.1~wire',
      'C6.3~wire',
    ])
    expectRoundTrips(index)
  })
})

describe('of whole sites', () => {
  it('every part and joint is found again from its address: the example with everything in it', () => {
    const { drawing } = exampleSite()
    const index = indexOf(drawing)
    expect(index.partCount).toBe(countParts(drawing))
    expect(index.jointCount).toBe(countJoints(drawing))
    expectRoundTrips(index)
  })

  it('every part and joint is found again from its address: any tables in any order', () => {
    fc.assert(
      fc.property(anyDrawing, (drawing) => {
        const index = indexOf(drawing)
        expect(index.partCount).toBe(countParts(drawing))
        expect(index.jointCount).toBe(countJoints(drawing))
        expectRoundTrips(index)
      }),
      { seed: 72, numRuns: 25 },
    )
  })

  it('what is numbered exists in the model, and the bulk list of kinds agrees with the single ones', () => {
    const { drawing } = exampleSite()
    const index = indexOf(drawing)
    const kinds = partKinds(index)
    for (let part = 0; part <= index.partCount; part++) {
      expect(partExists(drawing, partAddressAt(index, part))).toBe(true)
      expect(kinds[part]).toBe(partKindAt(index, part))
    }
    for (let joint = 0; joint < index.jointCount; joint++) {
      expect(jointExists(drawing, jointAddressAt(index, joint))).toBe(true)
    }
    const kindOf = (text: string) => partKindNames[partKindAt(index, partAt(index, text))]
    expect(['R3/T2/F1.1', 'R1/T3/X2', 'R1/T4/P2.3', 'R3/T1/L1.6'].map(kindOf)).toEqual([
      'frame',
      'crossMember',
      'post',
      'longMember',
    ])
    expect(['E1', 'B1', 'G3', 'C2.1', 'earth'].map(kindOf)).toEqual([
      'enclosure',
      'earthBar',
      'electrode',
      'conductorEnd',
      'remoteEarth',
    ])
  })
})

describe('what cannot be numbered', () => {
  it('a site beyond the limit is refused before any table is expanded', () => {
    const type = typeOf({
      modules: modulesOf({ high: 2, across: 28 }),
      longMembers: [railOf({ carries: [1] }), railOf({ carries: [2] })],
      frameBond: { clamps: { perMember: 1, kind: 'frameClamp' }, links: null },
    })
    // 56 clamps and 56 pieces of rail in a table, 5 x 10 714 tables: just over 6 million joints
    const runs = [{ firstTable: 1, count: 10_714, type: 'plain' }]
    const rows = [1, 2, 3, 4, 5].map((id) => rowOf({ id, runs, nextTable: 20_000 }))
    const drawing = drawingOf({ tableTypes: [type], rows })
    const cache: PatternCache = new WeakMap()
    expect(indexSite(drawing, cache)).toEqual({
      ok: false,
      error: [
        {
          code: 'size.tooManyJoints',
          facts: { joints: 5 * 10_714 * 112, most: 5_000_000 },
          where: { path: ['drawing', 'rows'] },
        },
      ],
    })
    expect(cache.has(type)).toBe(false)
  })

  it('an end that is not drawn is named, with the nearest that is', () => {
    const drawing = drawingOf({
      tableTypes: [typeOf({})],
      rows: [rowOf({})],
      enclosures: [{ id: 1, label: '', atM: { x: 0, y: 0 }, widthM: 1, depthM: 1, bearingDeg: 0 }],
      extraJoints: [{ id: 1, label: '', from: 'R1/T1/F1.9', to: 'E1', kind: 'weld', medianOhm: null }],
    })
    expect(indexSite(drawing)).toMatchObject({
      ok: false,
      error: [{ code: 'reference.noSuchPart', facts: { text: 'R1/T1/F1.9', nearest: 'R1/T1/F1.3' } }],
    })
  })
})
