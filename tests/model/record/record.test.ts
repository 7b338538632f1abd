import { describe, expect, it } from 'vitest'
import { randomStream } from '../../../src/base/random.ts'
import { checkSite, siteNotices } from '../../../src/model/checkSite.ts'
import { removeRows } from '../../../src/model/edits/rows.ts'
import { withRevision } from '../../../src/model/edits/withRevision.ts'
import { appendEntry, canAppendEntry } from '../../../src/model/record/appendEntry.ts'
import { inCanonicalOrder } from '../../../src/model/record/canonicalOrder.ts'
import { countedEntries, effectiveRecord } from '../../../src/model/record/effectiveRecord.ts'
import { mergeSites } from '../../../src/model/record/mergeSites.ts'
import type { Entry } from '../../../src/model/schema/record.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { deepFreeze } from '../deepFreeze.ts'
import { exampleReading, exampleSite, uuid } from '../exampleSite.ts'

const site = deepFreeze(exampleSite())
const reading = deepFreeze(exampleReading(30, 'B1', 'R1/T2/F1.1', 0.2))

function appended(to: Site, ...entries: Entry[]): Site {
  return entries.reduce((s, entry) => {
    const result = appendEntry(entry)(s)
    if (!result.ok) throw new Error(JSON.stringify(result.error))
    return result.value
  }, to)
}

const withdrawal = (n: number, of: string): Entry => ({
  id: uuid(100 + n),
  device: uuid(90),
  counter: n,
  at: `2026-05-04T08:${n}:00Z`,
  visit: uuid(100),
  entry: 'withdrawal',
  of,
  reason: '',
})

const correction = (n: number, of: string, ohm: number): Entry => ({
  id: uuid(100 + n),
  device: uuid(90),
  counter: n,
  at: `2026-05-04T08:${n}:00Z`,
  visit: uuid(100),
  entry: 'correction',
  of,
  result: { form: 'ohm', ohm },
  from: null,
  to: null,
  reason: '',
})

const stateOf = (s: Site, id: string) => effectiveRecord(s.record).find(({ original }) => original.id === id)!

describe('appending', () => {
  it('adds at the end and leaves drawing and earlier entries as they are', () => {
    const more = appended(site, reading)
    expect(more.record.at(-1)).toBe(reading)
    expect(more.record.slice(0, -1).every((entry, k) => entry === site.record[k])).toBe(true)
    expect(more.drawing).toBe(site.drawing)
    expect(checkSite(more)).toEqual([])
  })

  it('gives the same site back for an entry that is there, in whatever key order', () => {
    const more = appended(site, reading)
    const turned = Object.fromEntries(Object.entries(reading).reverse()) as unknown as Entry
    const again = appendEntry(turned)(more)
    expect(again.ok && again.value).toBe(more)
  })

  it('refuses other content under a known id, and what the record cannot hold', () => {
    const more = appended(site, reading)
    const other: Entry = { ...reading, result: { form: 'ohm', ohm: 0.21 } }
    const result = appendEntry(other)(more)
    expect(!result.ok && result.error).toMatchObject({
      code: 'reference.conflict',
      where: { entry: reading.id },
    })
    const refused = (entry: Entry) => canAppendEntry(site, entry)
    expect(refused({ ...reading, counter: 3 })).toMatchObject({ code: 'reference.duplicateId' })
    expect(refused({ ...reading, kit: 'none' })).toMatchObject({ code: 'reference.unknownName' })
    expect(refused({ ...reading, visit: uuid(5) })).toMatchObject({ code: 'reference.unknownName' })
    expect(refused({ ...reading, to: reading.from })).toMatchObject({ code: 'reference.samePart' })
    expect(refused({ ...reading, result: { form: 'ohm', ohm: -1 } })).toMatchObject({
      code: 'value.outOfRange',
    })
    expect(refused({ ...reading, result: { form: 'ohm', ohm: NaN } })).toMatchObject({ code: 'value.wrong' })
    expect(refused(withdrawal(40, uuid(5)))).toMatchObject({ code: 'reference.unknownName' })
    expect(refused(correction(40, uuid(100), 1))).toMatchObject({ code: 'reference.unknownName' })
  })
})

describe('the effective record', () => {
  it('applies corrections value by value and keeps what was first written', () => {
    const corrected = stateOf(site, uuid(105))
    expect(corrected.entry).toMatchObject({
      result: { form: 'ohm', ohm: 0.21 },
      from: { part: 'B1' },
      to: { part: 'R1/T1/F1.2' },
    })
    expect(corrected.original).toBe(site.record[5])
    expect(corrected.corrections).toEqual([site.record[8]])
    const twice = stateOf(appended(site, correction(40, uuid(105), 0.3)), uuid(105))
    expect(twice.entry).toMatchObject({ result: { form: 'ohm', ohm: 0.3 }, to: { part: 'R1/T1/F1.2' } })
    const check = stateOf(appended(site, correction(40, uuid(102), 0.02)), uuid(102))
    expect(check.entry).toMatchObject({ entry: 'leadCheck', result: { form: 'ohm', ohm: 0.02 } })
  })

  it('marks withdrawn entries and drops none', () => {
    expect(stateOf(site, uuid(106)).withdrawnBy).toBe(site.record[9])
    expect(stateOf(site, uuid(107)).withdrawnBy).toBeNull()
    expect(effectiveRecord(site.record).map(({ original }) => original)).toEqual(site.record)
    expect(countedEntries(site.record, 'reading').map(({ id }) => id)).toEqual([
      uuid(104),
      uuid(105),
      uuid(107),
    ])
  })

  it('lets a withdrawal or a correction be withdrawn in turn', () => {
    const restored = appended(site, withdrawal(40, uuid(109)))
    expect(stateOf(restored, uuid(106)).withdrawnBy).toBeNull()
    expect(stateOf(restored, uuid(109)).withdrawnBy?.id).toBe(uuid(140))
    const again = appended(restored, withdrawal(41, uuid(140)))
    expect(stateOf(again, uuid(106)).withdrawnBy?.id).toBe(uuid(109))
    const uncorrected = appended(site, withdrawal(40, uuid(108)))
    expect(stateOf(uncorrected, uuid(105)).entry).toBe(site.record[5])
  })

  it('counts an entry as withdrawn while one of several withdrawals counts', () => {
    const twice = appended(site, withdrawal(40, uuid(106)), withdrawal(41, uuid(109)))
    expect(stateOf(twice, uuid(106)).withdrawnBy?.id).toBe(uuid(140))
    const none = appended(twice, withdrawal(42, uuid(140)))
    expect(stateOf(none, uuid(106)).withdrawnBy).toBeNull()
  })

  it('ends for withdrawals in a ring and for a long chain of them', () => {
    const ring = [withdrawal(40, uuid(141)), withdrawal(41, uuid(140))]
    expect(
      effectiveRecord([...site.record, ...ring])
        .filter((e) => e.withdrawnBy)
        .map((e) => e.entry.id),
    ).toEqual([uuid(106)])
    const chain: Entry[] = Array.from({ length: 20_000 }, (_, k) => ({
      ...(withdrawal(40, k === 0 ? uuid(107) : uuid(1000 + k - 1)) as Extract<
        Entry,
        { entry: 'withdrawal' }
      >),
      id: uuid(1000 + k),
      counter: 1000 + k,
    }))
    // The last one counts, the one before it does not, and so on down: 20,000 are even, so the first does not.
    const effective = effectiveRecord([...site.record, ...chain])
    expect(effective.find(({ entry }) => entry.id === uuid(107))!.withdrawnBy).toBeNull()
    const odd = effectiveRecord([...site.record, ...chain.slice(0, -1)])
    expect(odd.find(({ entry }) => entry.id === uuid(107))!.withdrawnBy?.id).toBe(uuid(1000))
  })

  it('is in order of time across zones, then device, then counter', () => {
    const a: Entry = {
      ...reading,
      id: uuid(500),
      at: '2026-05-04T10:00:00+02:00',
      device: uuid(91),
      counter: 0,
    }
    const b: Entry = { ...reading, id: uuid(501), at: '2026-05-04T08:00:00Z', device: uuid(90), counter: 2 }
    const c: Entry = {
      ...reading,
      id: uuid(502),
      at: '2026-05-04T03:00:00-05:00',
      device: uuid(90),
      counter: 1,
    }
    const d: Entry = {
      ...reading,
      id: uuid(503),
      at: '2026-05-04T07:59:59.999Z',
      device: uuid(92),
      counter: 9,
    }
    expect(inCanonicalOrder([a, b, c, d]).map(({ id }) => id)).toEqual([503, 502, 501, 500].map(uuid))
  })
})

describe('merging', () => {
  const byDevice = (device: number, count: number): Entry[] =>
    Array.from({ length: count }, (_, k) => ({
      ...reading,
      id: uuid(device * 1000 + k),
      device: uuid(device),
      counter: k,
      at: `2026-05-05T08:${String((k * 7 + device) % 60).padStart(2, '0')}:00Z`,
    }))

  it('is the union by id, the same effective record in either order, and changes nothing a second time', () => {
    const random = randomStream(5)
    const all = [...byDevice(91, 12), ...byDevice(92, 12), ...byDevice(93, 12)]
    for (let trial = 0; trial < 30; trial++) {
      const a = { ...site, record: [...site.record, ...all.filter(() => random.uniform() < 0.5)] }
      const b = { ...site, record: [...site.record, ...all.filter(() => random.uniform() < 0.5)] }
      const ab = mergeSites(a, b)
      const ba = mergeSites(b, a)
      if (!ab.ok || !ba.ok) throw new Error('refused')
      const ids = new Set([...a.record, ...b.record].map(({ id }) => id))
      expect(ab.value.site.record).toHaveLength(ids.size)
      expect(ab.value.added).toBe(ids.size - a.record.length)
      expect(ab.value.site.record.slice(0, a.record.length)).toEqual(a.record)
      expect(effectiveRecord(ab.value.site.record)).toEqual(effectiveRecord(ba.value.site.record))
      expect(ab.value.conflicts).toEqual([])
      const again = mergeSites(ab.value.site, b)
      expect(again.ok && again.value.site).toBe(ab.value.site)
    }
  })

  it('shows an id with two contents and keeps the first in the record', () => {
    const changed: Entry = { ...reading, note: 'other' }
    const merged = mergeSites(appended(site, reading), appended(site, changed))
    expect(merged).toMatchObject({
      ok: true,
      value: { added: 0, conflicts: [{ id: reading.id, first: reading, second: changed }] },
    })
    expect(merged.ok && merged.value.site.record.at(-1)).toBe(reading)
  })

  it('keeps both entries of two windows that counted alike, and tells', () => {
    const twin: Entry = { ...reading, id: uuid(600) }
    const merged = mergeSites(appended(site, reading), appended(site, twin))
    if (!merged.ok) throw new Error('refused')
    expect(merged.value.site.record).toHaveLength(site.record.length + 2)
    expect(siteNotices(merged.value.site)).toMatchObject([{ code: 'reference.duplicateId' }])
  })

  it('never merges drawings, and says how their revisions stand to each other', () => {
    const edited = withRevision(removeRows({ rows: [3] })(site), uuid(70))
    const elsewhere = withRevision(site, uuid(71))
    const drawingOf = (a: Site, b: Site) => {
      const merged = mergeSites(a, b)
      if (!merged.ok) throw new Error('refused')
      expect(merged.value.site.drawing).toBe(a.drawing)
      return merged.value.drawing
    }
    expect(drawingOf(site, site)).toBe('same')
    expect(drawingOf(edited, site)).toBe('newer')
    expect(drawingOf(site, edited)).toBe('older')
    expect(drawingOf(edited, elsewhere)).toBe('diverged')
  })

  it('refuses another site, and a union that contradicts itself', () => {
    const other = mergeSites(site, { ...site, id: uuid(8) })
    expect(!other.ok && other.error).toMatchObject({ code: 'reference.otherSite', facts: { found: uuid(8) } })
    const [visit, ...rest] = site.record as [Extract<Entry, { entry: 'visit' }>, ...Entry[]]
    const kits = [...visit.kits, { ...visit.kits[0], id: 'third' }]
    const theirs = { ...site, record: [{ ...visit, kits }, ...rest, { ...reading, kit: 'third' }] }
    expect(checkSite(theirs)).toEqual([])
    const refused = mergeSites(site, theirs)
    expect(!refused.ok && refused.error).toMatchObject({ code: 'reference.unknownName' })
  })
})
