import { describe, expect, it } from 'vitest'
import { checkSite, siteNotices } from '../../src/model/checkSite.ts'
import { countJoints } from '../../src/model/countJoints.ts'
import { defaultKits } from '../../src/model/kits.ts'
import { newSite } from '../../src/model/newSite.ts'
import type { Drawing } from '../../src/model/schema/drawing.ts'
import type { Entry } from '../../src/model/schema/record.ts'
import { kitSchema } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { siteSchema } from '../../src/model/schema/site.ts'
import { exampleReading, exampleSite, fixedTilt, tracker, uuid } from './exampleSite.ts'

const site = exampleSite()
const drawn = (changes: Partial<Drawing>): Site => ({ ...site, drawing: { ...site.drawing, ...changes } })
const recorded = (...entries: Entry[]): Site => ({ ...site, record: [...site.record, ...entries] })
const found = (changed: Site) =>
  checkSite(changed).map(({ code, where }) => [code, where.path?.join('.') ?? ''] as const)

const [rowA, rowB] = site.drawing.rows
const [toBar, toRod] = site.drawing.conductors
const [extra] = site.drawing.extraJoints

describe('new sites and kits', () => {
  it('are valid, empty and judged by default criteria', () => {
    for (const units of ['metric', 'us'] as const) {
      const empty = newSite({ id: uuid(1), revision: uuid(2), name: 'x', units })
      expect(siteSchema.safeParse(empty).success).toBe(true)
      expect(checkSite(empty)).toEqual([])
      expect(siteNotices(empty)).toEqual([])
      expect(countJoints(empty.drawing)).toBe(0)
      expect(empty.drawing.criteria.every(({ source }) => source !== '')).toBe(true)
    }
    for (const kit of defaultKits) expect(kitSchema.safeParse(kit).success).toBe(true)
    expect(new Set(defaultKits.map(({ id }) => id)).size).toBe(defaultKits.length)
  })
})

describe('checkSite', () => {
  it('finds nothing in the example site', () => {
    expect(checkSite(site)).toEqual([])
    expect(siteNotices(site)).toEqual([])
  })

  const type = (changes: object) => drawn({ tableTypes: [{ ...fixedTilt, ...changes }, tracker] })
  const rowWith = (changes: object) => drawn({ rows: [{ ...rowA, ...changes }, rowB] })
  const conductorWith = (changes: object) => drawn({ conductors: [{ ...toBar, ...changes }, toRod] })
  const landing = (part: string, kind = 'crimpLug') =>
    conductorWith({ points: toBar.points.with(1, { ...toBar.points[1], landing: { part, kind } }) })
  const at = 'drawing.conductors.0.points.1.landing'

  const cases: readonly (readonly [string, Site, string, string])[] = [
    [
      'a row id twice',
      drawn({ rows: [rowA, { ...rowB, id: 1 }] }),
      'reference.duplicateId',
      'drawing.rows.1.id',
    ],
    [
      'a row id that the counter will give again',
      drawn({ nextIds: { ...site.drawing.nextIds, row: 3 } }),
      'reference.idNotCounted',
      'drawing.rows.1.id',
    ],
    [
      'a pair of a plan that the plan will give again',
      drawn({ plans: [{ ...site.drawing.plans[0], nextPair: site.drawing.plans[0].pairs[0].id }] }),
      'reference.idNotCounted',
      'drawing.plans.0.pairs.0.id',
    ],
    [
      'a table id in two runs',
      rowWith({ runs: [rowA.runs[0], rowA.runs[1], { firstTable: 2, count: 2, type: 'fixed' }] }),
      'reference.duplicateId',
      'drawing.rows.0.runs.2.firstTable',
    ],
    [
      'a table id that the row will give again',
      rowWith({ nextTable: 4 }),
      'reference.idNotCounted',
      'drawing.rows.0.runs.1.firstTable',
    ],
    [
      'a table type that is not there',
      drawn({ tableTypes: [fixedTilt], rows: [rowA, rowB], extraJoints: [] }),
      'reference.unknownName',
      'drawing.rows.1.runs.0.type',
    ],
    [
      'too many tables in a row',
      rowWith({
        runs: [...rowA.runs, { firstTable: 5, count: 100_000, type: 'tracker' }],
        nextTable: 200_000,
      }),
      'size.tooMany',
      'drawing.rows.0.runs',
    ],
    [
      'a link kind that is not there',
      rowWith({ links: { count: 2, kind: 'none' } }),
      'reference.unknownName',
      'drawing.rows.0.links.kind',
    ],
    [
      'a label of a table that is not there',
      rowWith({ tableLabels: { '9': 'x' } }),
      'reference.unknownName',
      'drawing.rows.0.tableLabels.9',
    ],
    [
      'a type twice',
      drawn({ tableTypes: [fixedTilt, tracker, fixedTilt] }),
      'reference.duplicateId',
      'drawing.tableTypes.2.id',
    ],
    [
      'a cross member beyond the table',
      type({ crossMembers: { stations: [2, 6], bracketKind: 'bracket' } }),
      'value.inconsistent',
      'drawing.tableTypes.0.crossMembers.stations.1',
    ],
    [
      'two posts at one station of a line',
      type({ posts: { ...fixedTilt.posts, stations: [2, 2] } }),
      'value.inconsistent',
      'drawing.tableTypes.0.posts.stations.1',
    ],
    [
      'a member that carries a row that is not there',
      type({ longMembers: fixedTilt.longMembers.with(3, { ...fixedTilt.longMembers[3], carries: [3] }) }),
      'value.inconsistent',
      'drawing.tableTypes.0.longMembers.3.carries.0',
    ],
    [
      'a splice after the last station',
      type({ longMembers: fixedTilt.longMembers.with(0, { ...fixedTilt.longMembers[0], spliceAfter: [5] }) }),
      'value.inconsistent',
      'drawing.tableTypes.0.longMembers.0.spliceAfter.0',
    ],
    [
      'a clamp whose kind has no median',
      type({ frameBond: { clamps: { perMember: 1, kind: 'wire' }, links: null } }),
      'value.inconsistent',
      'drawing.tableTypes.0.frameBond.clamps.kind',
    ],
    [
      'a computed kind missing',
      drawn({ jointKinds: site.drawing.jointKinds.filter(({ id }) => id !== 'earthPath') }),
      'reference.unknownName',
      'drawing.jointKinds',
    ],
    ['a landing on nothing', landing('R1/T1/L1.6'), 'reference.noSuchPart', `${at}.part`],
    ['a landing with an address of no form', landing('R1/T1'), 'reference.badAddress', `${at}.part`],
    ['a landing on remote earth', landing('earth'), 'value.inconsistent', `${at}.part`],
    ['a landing on itself', landing('C1.2'), 'reference.samePart', `${at}.part`],
    ['a landing by a kind without median', landing('B1', 'wire'), 'value.inconsistent', `${at}.kind`],
    [
      'a point id twice',
      conductorWith({ points: toBar.points.with(1, { ...toBar.points[1], id: 4 }) }),
      'reference.duplicateId',
      'drawing.conductors.0.points.2.id',
    ],
    [
      'a conductor size that is in no table',
      conductorWith({ size: 'mm2-17' }),
      'reference.unknownName',
      'drawing.conductors.0.size',
    ],
    [
      'an extra joint with one end in nothing',
      drawn({ extraJoints: [{ ...extra, to: 'E7' }] }),
      'reference.noSuchPart',
      'drawing.extraJoints.0.to',
    ],
    [
      'an extra joint from a part to itself',
      drawn({ extraJoints: [{ ...extra, to: extra.from }] }),
      'reference.samePart',
      'drawing.extraJoints.0',
    ],
    [
      'an extra joint without ohms',
      drawn({ extraJoints: [{ ...extra, kind: 'wire', medianOhm: null }] }),
      'value.inconsistent',
      'drawing.extraJoints.0.kind',
    ],
    [
      'a joint that differs twice, its ends written the other way round',
      drawn({
        differingJoints: [
          { joint: 'R3/T2/L1.3~P1.2', change: 'absent', kind: null, medianOhm: null },
          { joint: 'R3/T2/P1.2~L1.3', change: 'absent', kind: null, medianOhm: null },
        ],
      }),
      'reference.duplicateId',
      'drawing.differingJoints.1.joint',
    ],
    [
      'a joint that differs in nothing',
      drawn({ differingJoints: [{ joint: 'C1.3~lug', change: 'other', kind: null, medianOhm: null }] }),
      'value.inconsistent',
      'drawing.differingJoints.0',
    ],
    [
      'a level to reject below the one to investigate',
      drawn({ criteria: [{ ...site.drawing.criteria[0], rejectAboveOhm: 0.4 }] }),
      'value.inconsistent',
      'drawing.criteria.0.rejectAboveOhm',
    ],
    [
      'a pair of one part',
      drawn({
        plans: [
          {
            ...site.drawing.plans[0],
            pairs: [{ id: 1, from: 'B1', to: 'B1', required: false, step: '', point: 'none' }],
          },
        ],
      }),
      'reference.samePart',
      'drawing.plans.0.pairs.0',
    ],
    [
      'a device that protects nothing',
      drawn({ sources: [site.drawing.sources[1]] }),
      'reference.unknownName',
      'drawing.devices.0.protects',
    ],
    [
      'a return that is not there',
      drawn({ sources: site.drawing.sources.map((s) => (s.form === 'ac' ? { ...s, returnPart: 'B2' } : s)) }),
      'reference.noSuchPart',
      'drawing.sources.1.returnPart',
    ],
  ]

  it.each(cases)('finds %s', (_what, changed, code, path) => {
    expect(found(changed)).toContainEqual([code, path])
  })

  const reading = exampleReading(20, 'B1', 'R1/T1/F1.1', 0.1)
  const last = site.record.length
  const entries: readonly (readonly [string, Entry, string, string])[] = [
    ['an id given before', { ...reading, id: uuid(105) }, 'reference.duplicateId', 'id'],
    ['a visit that is not there', { ...reading, visit: uuid(105) }, 'reference.unknownName', 'visit'],
    ['a kit that the visit lacks', { ...reading, kit: 'x' }, 'reference.unknownName', 'kit'],
    ['a lead that the visit lacks', { ...reading, lead: 'x' }, 'reference.unknownName', 'lead'],
    ['both ends on one part', { ...reading, to: reading.from }, 'reference.samePart', 'to.part'],
    [
      'an address of no form',
      { ...reading, to: { ...reading.to, part: 'x' } },
      'reference.badAddress',
      'to.part',
    ],
    ['a repeat of nothing', { ...reading, repeats: uuid(999) }, 'reference.unknownName', 'repeats'],
    ['a repeat of itself', { ...reading, repeats: reading.id }, 'reference.unknownName', 'repeats'],
    ['a joint around two-wire leads', { ...reading, around: 'C1.1~wire' }, 'value.inconsistent', 'around'],
    [
      'a loop clamp around nothing',
      { ...reading, method: 'loopClamp', to: reading.from },
      'value.inconsistent',
      'around',
    ],
    [
      'least ohms above the most',
      { ...reading, unsteady: { leastOhm: 2, mostOhm: 1 } },
      'value.inconsistent',
      'unsteady',
    ],
    [
      'a clip on remote earth',
      { ...reading, to: { ...reading.to, part: 'earth' } },
      'value.inconsistent',
      '',
    ],
    [
      'an electrode test between two parts',
      { ...reading, method: 'earthElectrode' },
      'value.inconsistent',
      '',
    ],
  ]

  it.each(entries)('finds a reading with %s', (_what, entry, code, path) => {
    const at = ['record', String(last), path].filter(Boolean).join('.')
    expect(found(recorded(entry))).toContainEqual([code, at])
    expect(checkSite(recorded(entry))[0].where.path?.slice(0, 2)).toEqual(['record', last])
  })

  it('takes an electrode test to remote earth and a loop clamp around a wire', () => {
    const test: Entry = {
      ...reading,
      method: 'earthElectrode',
      from: { ...reading.from, part: 'G1' },
      to: { ...reading.to, part: 'earth' },
    }
    expect(checkSite(recorded(test))).toEqual([])
    const clamp: Entry = { ...reading, method: 'loopClamp', to: reading.from, around: 'C1.1~wire' }
    expect(checkSite(recorded(clamp))).toEqual([])
  })

  it('keeps and tells addresses of record and plan that the drawing lost', () => {
    const changed = drawn({ rows: [rowA], extraJoints: [] })
    expect(checkSite(changed)).toEqual([])
    const told = siteNotices(changed).map(({ code, where }) => [code, where.path?.join('.'), where.entry])
    expect(told).toContainEqual(['reference.noSuchPart', 'drawing.plans.0.pairs.1.to', undefined])
    expect(told).toContainEqual(['reference.noSuchPart', 'record.6.to.part', uuid(106)])
    expect(told).toContainEqual(['reference.noSuchJoint', 'drawing.differingJoints.1.joint', undefined])
    expect(told).toContainEqual(['reference.noSuchPart', 'drawing.asBuilt.2.found.from', undefined])
  })

  it('tells of two entries with one place in a device’s count and refuses neither', () => {
    const changed = recorded({ ...reading, counter: 3 })
    expect(checkSite(changed)).toEqual([])
    expect(siteNotices(changed)).toMatchObject([
      { code: 'reference.duplicateId', where: { entry: reading.id } },
    ])
  })

  it('stops after fifty problems', () => {
    const bad = Array.from({ length: 500 }, (_, k) => ({ ...extra, id: k + 1, from: 'x' }))
    expect(checkSite(drawn({ extraJoints: bad }))).toHaveLength(50)
  })
})

describe('the size of a site', () => {
  const many = (rows: number, tables: number): Drawing => ({
    ...site.drawing,
    rows: Array.from({ length: rows }, (_, k) => ({
      ...rowB,
      id: k + 1,
      runs: [{ firstTable: 1, count: tables, type: 'tracker' }],
      nextTable: tables + 1,
      links: { count: 1 as const, kind: 'jumper' },
    })),
    conductors: [],
    electrodes: [],
    extraJoints: [],
    asBuilt: [],
  })

  it('is counted by arithmetic, whatever it would expand to', () => {
    // 25 joints a table and a jumper between neighbours
    expect(countJoints(many(20_000, 100_000))).toBe(20_000 * (100_000 * 25 + 99_999))
    expect(checkSite({ ...site, drawing: many(20_000, 100_000) })).toMatchObject([
      { code: 'size.tooManyJoints', facts: { most: 5_000_000 } },
    ])
  })

  it('is bounded for parts that nothing bonds as well', () => {
    const bare = { ...tracker, posts: null, frameBond: { clamps: null, links: null } }
    const wide = { ...bare, modules: { ...bare.modules, high: 12, across: 400 } }
    const drawing = { ...many(5, 300), tableTypes: [wide, fixedTilt] }
    expect(checkSite({ ...site, drawing })).toMatchObject([
      { code: 'size.tooMany', facts: { what: 'parts' } },
    ])
  })
})
