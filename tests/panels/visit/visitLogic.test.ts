import { describe, expect, it } from 'vitest'
import { defaultKits } from '../../../src/model/kits.ts'
import { newSite } from '../../../src/model/newSite.ts'
import type { Entry, EntryOf, Kit } from '../../../src/model/schema/record.ts'
import { outstandingChecks } from '../../../src/panels/visit/closingChecks.ts'
import { boundOhm, kitTrouble } from '../../../src/panels/visit/kitState.ts'
import { allZero, nothingTyped, readTypedVolts } from '../../../src/panels/visit/typedVolts.ts'
import { draftOf } from '../../../src/panels/visit/visitDraft.ts'
import { openedVisit, writtenReading } from '../../../src/state/entries.ts'
import { Usual } from '../../../src/state/usual.svelte.ts'

const [kit] = defaultKits

describe('an instrument on its day', () => {
  it('holds through the day on which its calibration is due', () => {
    const due: Kit = { ...kit, calibrationDue: '2026-05-12' }
    expect(kitTrouble(due, '2026-05-12T23:59:00Z').isExpired).toBe(false)
    expect(kitTrouble(due, '2026-05-13T00:01:00Z').isExpired).toBe(true)
    expect(kitTrouble(kit, '2026-05-13T00:01:00Z').isExpired).toBe(false)
  })

  it('is off where its check lies beyond the bound of its error, either way', () => {
    const checked = (readOhm: number): Kit => ({
      ...kit,
      lastCheck: { on: '2026-05-12', referenceOhm: 1, readOhm },
    })
    // 2 % of 1 ohm and 3 digits of 0.01 ohm
    expect(boundOhm(kit, 1)).toBeCloseTo(0.05, 12)
    for (const [readOhm, isOff] of [
      [1.05, false],
      [0.95, false],
      [1.051, true],
      [0.949, true],
    ] as const)
      expect(kitTrouble(checked(readOhm), '2026-05-12T08:00:00Z').isOff, String(readOhm)).toBe(isOff)
  })
})

describe('volts as typed', () => {
  it('are entered whole or not at all', () => {
    expect(readTypedVolts(allZero)).toEqual({
      ok: true,
      value: { clips: { directV: 0, alternatingV: 0 }, toEarth: { directV: 0, alternatingV: 0 } },
    })
    const half = readTypedVolts({ ...nothingTyped, clipsDirect: '−12,5', clipsAlternating: '300 mV' })
    expect(half.ok ? [] : Object.keys(half.error)).toEqual(['earthDirect', 'earthAlternating'])
    const wrong = readTypedVolts({ ...allZero, clipsAlternating: '-1', earthDirect: '1e6' })
    expect(wrong.ok ? [] : Object.keys(wrong.error)).toEqual(['clipsAlternating', 'earthDirect'])
  })
})

describe('closing checks', () => {
  let minute = 0
  let ids = 0
  const identity = {
    newId: () => `00000000-0000-4000-8000-${String(++ids).padStart(12, '0')}`,
    now: () => new Date(Date.UTC(2026, 4, 12, 8, minute++)).toISOString(),
    device: '11111111-1111-4111-8111-111111111111',
  }
  const empty = newSite({
    id: identity.newId(),
    revision: identity.newId(),
    name: 'Fieldgate',
    units: 'metric',
  })
  const visit = openedVisit(empty, identity, [kit], [])
  const spot = { part: 'B1', spot: 'stud', surface: 'bare' } as const
  const reading = (lead: string | null) =>
    writtenReading(empty, identity, {
      visit,
      kit: lead === null ? defaultKits[1] : kit,
      lead,
      from: spot,
      to: spot,
      result: { form: 'ohm', ohm: 0.1 },
      repeats: null,
      note: '',
    })
  const check = (entry: 'nulling' | 'leadCheck', lead: string): Entry => {
    const common = {
      id: identity.newId(),
      device: identity.device,
      counter: 0,
      at: identity.now(),
      visit: visit.id,
    }
    return entry === 'nulling'
      ? { ...common, entry, kit: kit.id, lead, leadC: null, note: '' }
      : { ...common, entry, kit: kit.id, lead, result: { form: 'ohm', ohm: 0.01 }, note: '' }
  }

  it('are outstanding for each lead whose last reading no check follows', () => {
    const nulled = check('nulling', 'a')
    const record: Entry[] = [visit, nulled, reading('a'), reading('a'), reading(null), reading('b')]
    expect(outstandingChecks({ ...empty, record }, visit)).toEqual([
      { kit: kit.id, lead: 'a', since: nulled.at, readings: 2 },
      { kit: kit.id, lead: 'b', since: record[5].at, readings: 1 },
    ])
    const checked = [...record, check('leadCheck', 'a')]
    expect(outstandingChecks({ ...empty, record: checked }, visit).map(({ lead }) => lead)).toEqual(['b'])
    const further = [...checked, reading('a')]
    expect(outstandingChecks({ ...empty, record: further }, visit).map(({ readings }) => readings)).toEqual([
      1, 1,
    ])
  })

  it('leave the isolation of another day behind when a visit is filled in', () => {
    const earlierVisit: EntryOf<'visit'> = { ...visit, party: ['A. Rowan'], inverter: 'off', lockOut: '17' }
    const draft = draftOf({ visit: null, earlierVisit, kits: [kit], leads: [] }, { party: [] })
    expect(draft).toMatchObject({ party: ['A. Rowan'], inverter: 'unknown', lockOut: '', kits: [kit] })
    expect(
      draftOf({ visit: earlierVisit, earlierVisit: null, kits: [], leads: [] }, { party: ['x'] }),
    ).toMatchObject({
      party: ['A. Rowan'],
      lockOut: '17',
    })
  })
})

describe('what a device usually measures with', () => {
  it('is kept, the latest first, and whatever is broken of it is left out', () => {
    const store = new Map<string, string>()
    const values = {
      getItem: (key: string) => store.get(key) ?? null,
      setItem: (k: string, v: string) => void store.set(k, v),
    }
    const usual = new Usual(values)
    usual.keep({ party: ['A. Rowan'], kits: [kit], leads: [] })
    usual.keep({ party: ['B. Larch'], kits: [{ ...kit, serial: '7' }], leads: [] })
    const again = new Usual(values)
    expect([again.names, again.party]).toEqual([['B. Larch', 'A. Rowan'], ['B. Larch']])
    expect(again.kits).toEqual([{ ...kit, serial: '7' }])
    const [key] = store.keys()
    store.set(key, JSON.stringify({ names: ['C. Ash', 7], kits: [{ id: 'x' }], leads: 'no' }))
    const mended = new Usual(values)
    expect([mended.names, mended.kits, mended.leads]).toEqual([['C. Ash'], [], []])
    store.set(key, '{')
    expect(new Usual(values).names).toEqual([])
  })
})
