import { describe, expect, it } from 'vitest'
import { appendEntry } from '../../../src/model/record/appendEntry.ts'
import { countedEntries } from '../../../src/model/record/effectiveRecord.ts'
import type { EntryOf } from '../../../src/model/schema/record.ts'
import { exampleSite, uuid } from '../exampleSite.ts'

const site = exampleSite()
const visit = countedEntries(site.record, 'visit')[0]
const kit = { ...visit.kits[0], id: 'spare', name: 'Spare tester' }
const amendment: EntryOf<'amendment'> = {
  id: uuid(900),
  device: uuid(91),
  counter: 1,
  at: '2026-05-04T09:00:00Z',
  visit: visit.id,
  entry: 'amendment',
  party: ['A. Rowan'],
  purpose: 'first test',
  kits: [kit],
  leads: [],
  weather: 'dry',
  ambientC: 21,
  inverter: 'off',
  isolators: 'open',
  lockOut: 'L-5',
  isolation: '',
}

describe('an amendment of a visit', () => {
  it('says what holds from then on, and leaves out no instrument or lead that was said before', () => {
    const appended = appendEntry(amendment)(site)
    if (!appended.ok) throw new Error(appended.error.code)
    const now = countedEntries(appended.value.record, 'visit')[0]
    expect(now).toMatchObject({ id: visit.id, at: visit.at, party: ['A. Rowan'], lockOut: 'L-5' })
    expect(now.kits.map(({ id }) => id)).toEqual(['spare', ...visit.kits.map(({ id }) => id)])
    expect(now.leads).toEqual(visit.leads)
    expect(now).not.toHaveProperty('visit')
  })

  it('brings an instrument that later entries may name, and earlier programs would not have known', () => {
    const nulling: EntryOf<'nulling'> = {
      ...{ id: uuid(901), device: uuid(91), counter: 2, at: '2026-05-04T09:01:00Z', visit: visit.id },
      ...{ entry: 'nulling', kit: 'spare', lead: visit.leads[0].id, leadC: null, note: '' },
    }
    const without = appendEntry(nulling)(site)
    expect(!without.ok && without.error.code).toBe('reference.unknownName')
    const amended = appendEntry(amendment)(site)
    expect(amended.ok && appendEntry(nulling)(amended.value).ok).toBe(true)
  })

  it('that is withdrawn says nothing', () => {
    const withdrawal: EntryOf<'withdrawal'> = {
      ...{ id: uuid(902), device: uuid(91), counter: 3, at: '2026-05-04T09:02:00Z', visit: visit.id },
      ...{ entry: 'withdrawal', of: amendment.id, reason: 'wrong visit' },
    }
    const record = [...site.record, amendment, withdrawal]
    expect(countedEntries(record, 'visit')[0]).toEqual(visit)
  })
})
