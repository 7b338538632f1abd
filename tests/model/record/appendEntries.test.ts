import { describe, expect, it } from 'vitest'
import { randomStream } from '../../../src/base/random.ts'
import { appendEntries } from '../../../src/model/record/appendEntries.ts'
import { appendEntry } from '../../../src/model/record/appendEntry.ts'
import type { Entry } from '../../../src/model/schema/record.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { deepFreeze } from '../deepFreeze.ts'
import { exampleReading, exampleSite, uuid } from '../exampleSite.ts'

const site = deepFreeze(exampleSite())
const readings = Array.from({ length: 8 }, (_, k) =>
  deepFreeze({ ...exampleReading(30 + k, 'B1', 'R1/T2/F1.1', 0.2 + k / 100), at: '2026-05-04T08:00:00Z' }),
)
const visit: Entry = { ...site.record[0], id: uuid(800), device: uuid(91), counter: 1 }
const withdrawal: Entry = {
  ...{ id: uuid(801), device: uuid(91), counter: 2, at: '2026-05-04T09:00:00Z', visit: uuid(800) },
  ...{ entry: 'withdrawal', of: readings[0].id, reason: 'list withdrawn' },
}

const oneByOne = (to: Site, entries: readonly Entry[]) =>
  entries.reduce<Site | null>((at, entry) => {
    const next = at && appendEntry(entry)(at)
    return next?.ok ? next.value : null
  }, to)

describe('appending many entries', () => {
  it('gives what one after the other gives, each referring to those before it', () => {
    const all = [readings[0], visit, withdrawal, { ...readings[1], visit: uuid(800) }, readings[2]]
    const appended = appendEntries(all)(site)
    expect(appended).toEqual({ ok: true, value: oneByOne(site, all) })
    expect(appended.ok && appended.value.record).toHaveLength(site.record.length + 5)
  })

  it('accepts and refuses as one after the other does, in any order and with faults (seeded)', () => {
    const random = randomStream(20310504)
    const faulty: readonly Entry[] = [
      { ...readings[3], kit: 'none' },
      { ...readings[4], counter: readings[5].counter },
      { ...readings[5], id: readings[2].id },
      { ...readings[6], to: readings[6].from },
      { ...readings[7], result: { form: 'ohm', ohm: NaN } },
      { ...readings[7], repeats: readings[6].id },
    ]
    const pool: readonly Entry[] = [...readings, visit, withdrawal, ...faulty]
    let accepted = 0
    for (let trial = 0; trial < 200; trial++) {
      const picked = Array.from({ length: 1 + random.integer(4) }, () => pool[random.integer(pool.length)])
      const appended = appendEntries(picked)(site)
      expect(appended.ok ? appended.value : null).toEqual(oneByOne(site, picked))
      if (appended.ok) accepted++
    }
    expect(accepted).toBeGreaterThan(20)
    expect(accepted).toBeLessThan(180)
  })

  it('adds none where one is wrong, and says which', () => {
    const appended = appendEntries([readings[0], { ...readings[1], kit: 'none' }, readings[2]])(site)
    expect(!appended.ok && appended.error).toMatchObject({
      code: 'reference.unknownName',
      where: { entry: readings[1].id },
    })
    const early = appendEntries([{ ...readings[0], visit: uuid(800) }, visit])(site)
    expect(!early.ok && early.error.code).toBe('reference.unknownName')
  })

  it('is the same site again where all are there already, and refuses other content under a known id', () => {
    const once = appendEntries(readings)(site)
    if (!once.ok) throw new Error(once.error.code)
    const again = appendEntries(readings)(once.value)
    expect(again.ok && again.value).toBe(once.value)
    const other = appendEntries([{ ...readings[0], note: 'other' }])(once.value)
    expect(!other.ok && other.error.code).toBe('reference.conflict')
  })
})
