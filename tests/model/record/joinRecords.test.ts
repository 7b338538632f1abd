import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { joinParts } from '../../../src/model/record/joinParts.ts'
import { settleConflicts, withDrawingOf } from '../../../src/model/record/joinRecords.ts'
import { countedEntries, effectiveRecord } from '../../../src/model/record/effectiveRecord.ts'
import { mergeSites } from '../../../src/model/record/mergeSites.ts'
import { removeRows } from '../../../src/model/edits/rows.ts'
import type { Entry, EntryOf } from '../../../src/model/schema/record.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { exampleSite, uuid } from '../exampleSite.ts'

const site = exampleSite()
const reading = site.record.find((entry): entry is EntryOf<'reading'> => entry.entry === 'reading')!

/** Readings of two devices, as they were taken apart. */
function taken(device: number, count: number): Entry[] {
  return Array.from({ length: count }, (_, k) => ({
    ...reading,
    id: uuid(device * 1000 + k),
    device: uuid(device),
    counter: k,
    at: `2026-05-05T08:${String((k * 7 + device) % 60).padStart(2, '0')}:00Z`,
    photos: [],
  }))
}
const withEntries = (...entries: Entry[]): Site => ({ ...site, record: [...site.record, ...entries] })
const stamp = ({ record }: Site) => ({
  id: uuid(5000 + record.length),
  device: uuid(95),
  counter: record.length,
  at: '2026-05-06T08:00:00Z',
})
const merged = (a: Site, b: Site) => {
  const result = mergeSites(a, b)
  if (!result.ok) throw new Error(result.error.code)
  return result.value
}

describe('what a file adds', () => {
  it('is told by device, with what is here already', () => {
    const mine = withEntries(...taken(91, 2))
    const theirs = withEntries(...taken(91, 1), ...taken(92, 3))
    expect(joinParts(mine, theirs)).toEqual({
      parts: [
        {
          device: uuid(92),
          party: [],
          readings: 3,
          others: 0,
          firstAt: '2026-05-05T08:32:00Z',
          lastAt: '2026-05-05T08:46:00Z',
        },
      ],
      same: site.record.length + 1,
    })
  })
})

describe('an entry with two contents', () => {
  const mine = withEntries({ ...reading, id: uuid(700), counter: 700, note: 'mine' })
  const theirs = withEntries({ ...reading, id: uuid(700), counter: 700, note: 'theirs' })
  const settled = (second: readonly string[]) => {
    const { site: union, conflicts } = merged(mine, theirs)
    const result = settleConflicts(union, conflicts, new Set(second), stamp)
    if (!result.ok) throw new Error(result.error.code)
    return result.value
  }
  const noteOf = ({ record }: Site) =>
    countedEntries(record, 'reading').find(({ id }) => id === uuid(700))!.note
  const notes = ({ record }: Site) => countedEntries(record, 'note').map(({ text }) => text)

  it.each([
    ['mine', [], 'theirs'],
    ['theirs', [uuid(700)], 'mine'],
  ] as const)('counts once as chosen (%s), and the other is whole in a note', (counts, second, other) => {
    const result = settled(second)
    expect(noteOf(result)).toBe(counts)
    expect(result.record.filter(({ id }) => id === uuid(700))).toHaveLength(1)
    const said = notes(result).find((text) => text.includes(uuid(700)))!
    expect(JSON.parse(said.slice(said.indexOf('{')))).toMatchObject({ id: uuid(700), note: other })
  })

  it('is settled for the other device too once that one takes in the result', () => {
    const result = settled([uuid(700)])
    const there = merged(theirs, result)
    expect(there.conflicts).toEqual([])
    expect(effectiveRecord(there.site.record)).toEqual(effectiveRecord(result.record))
  })
})

describe('the drawing of another version', () => {
  const other = { ...removeRows({ rows: [3] })(site), name: 'Other name' }

  it('is taken with its revision, and the record stays', () => {
    const mine = withEntries(...taken(91, 2))
    const result = withDrawingOf(mine, other, uuid(800))
    expect(result).toMatchObject({ ok: true, value: { name: 'Other name', drawing: other.drawing } })
    expect(result.ok && result.value.record).toBe(mine.record)
  })

  it('never gives an id twice: its counts go no further back than those here', () => {
    const { nextIds } = site.drawing
    const mine = { ...site, drawing: { ...site.drawing, nextIds: { ...nextIds, row: nextIds.row + 9 } } }
    const result = withDrawingOf(mine, other, uuid(800))
    if (!result.ok) throw new Error(result.error.code)
    expect(result.value.drawing.nextIds.row).toBe(nextIds.row + 9)
    expect(result.value.drawing).toMatchObject({ revision: uuid(800), parent: other.drawing.revision })
  })

  it('of the same content is no other drawing, whatever its revision', () => {
    const again = { ...site, drawing: { ...site.drawing, revision: uuid(801), parent: uuid(802) } }
    expect(merged(site, again).drawing).toBe('same')
    expect(merged(site, { ...again, name: 'Other name' }).drawing).toBe('diverged')
  })
})

describe('records that were taken apart', () => {
  it('end the same on all devices, whoever takes in whose file first, and nothing comes twice', () => {
    const all = [...taken(91, 6), ...taken(92, 6), ...taken(93, 6)]
    const share = fc.array(fc.boolean(), { minLength: all.length, maxLength: all.length })
    const orders = fc.shuffledSubarray([0, 1, 2], { minLength: 3, maxLength: 3 })
    fc.assert(
      fc.property(fc.tuple(share, share, share), orders, orders, (shares, one, two) => {
        const files = shares.map((mask) => withEntries(...all.filter((_, k) => mask[k])))
        const join = (order: readonly number[]) =>
          order.map((k) => files[k]).reduce((a, b) => merged(a, b).site)
        const [a, b] = [join(one), join(two)]
        expect(effectiveRecord(a.record)).toEqual(effectiveRecord(b.record))
        const ids = a.record.map(({ id }) => id)
        expect(new Set(ids).size).toBe(ids.length)
        const wanted = new Set(files.flatMap(({ record }) => record.map(({ id }) => id)))
        expect(new Set(ids)).toEqual(wanted)
      }),
      { seed: 20313, numRuns: 60 },
    )
  })
})
