import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { openSite } from '../../src/files/openSite.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { defaultKits } from '../../src/model/kits.ts'
import { countedEntries } from '../../src/model/record/effectiveRecord.ts'
import { newSite } from '../../src/model/newSite.ts'
import { partExists } from '../../src/model/presence.ts'
import { parsePartAddress } from '../../src/model/address.ts'
import type { Entry } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { usualClip } from '../../src/panels/clipDefaults.ts'
import { measuringSetup } from '../../src/panels/measuringSetup.ts'
import { findLines } from '../../src/panels/findLines.ts'
import { readingRows } from '../../src/state/readingRows.ts'
import { readTypedOhms } from '../../src/panels/typedOhms.ts'
import { PlaceFinder } from '../../src/text/findPlaces.ts'
import { openNameBook } from '../../src/text/places.ts'

const [kit] = defaultKits

function field(): Site {
  const opened = openSite(readFileSync('demo-data/field.json'), 'field.json')
  if (!opened.ok) throw new Error('the field demo does not open')
  return opened.value
}

describe('typed ohms', () => {
  it.each([
    ['0.03', 0.03],
    ['0,03', 0.03],
    ['30m', 0.03],
    [' 30 mΩ ', 0.03],
    ['0', 0],
    ['200', 200],
    ['.5', 0.5],
  ])('%j is read', (text, ohm) => {
    expect(readTypedOhms(text, false, kit)).toEqual({ ok: true, value: { form: 'ohm', ohm } })
  })

  it.each(['over', 'Over range', 'OL', '>200', 'o.l.'])('%j is over range', (text) => {
    expect(readTypedOhms(text, false, kit)).toEqual({ ok: true, value: { form: 'over', atLeastOhm: 200 } })
  })

  it('a bare number is in the unit that is shown, one with a unit in its own', () => {
    const ohm = (text: string) => {
      const read = readTypedOhms(text, false, kit, 'mΩ')
      return read.ok && read.value.form === 'ohm' ? read.value.ohm : read
    }
    expect(ohm('30')).toBe(0.03)
    expect(ohm('0,5')).toBe(0.0005)
    expect(ohm('0.03 Ω')).toBe(0.03)
    expect(ohm('30m')).toBe(0.03)
    expect(ohm('2k')).toMatchObject({ ok: false })
  })

  it('over range by the switch needs no digits', () => {
    expect(readTypedOhms('', true, kit)).toEqual({ ok: true, value: { form: 'over', atLeastOhm: 200 } })
  })

  it.each([
    ['', /Type what the instrument shows/],
    ['-0.2', /not less than zero/],
    ['201', /over range above 200 Ω/],
    ['1.2.3', /more than one comma or point/],
    ['abc', /not a number/],
    ['1 V', /not a unit/],
    ['<b>', /not a number/],
  ])('%j gets a sentence', (text, sentence) => {
    const read = readTypedOhms(text, false, kit)
    expect(read.ok).toBe(false)
    expect(read.ok ? '' : read.error).toMatch(sentence)
  })
})

describe('the usual clip', () => {
  const { drawing } = field()

  it('goes by the kind of part and by what the site says of its surface', () => {
    expect(usualClip(drawing, 'R4/T4/L1.6')).toEqual({ part: 'R4/T4/L1.6', spot: 'cutEdge', surface: 'bare' })
    expect(usualClip(drawing, 'B1')).toMatchObject({ spot: 'stud', surface: 'bare' })
    expect(usualClip(drawing, 'C1.1')).toMatchObject({ spot: 'lug', surface: 'bare' })
    expect(usualClip(drawing, 'earth')).toMatchObject({ spot: 'unknown' })
  })

  it('is bare where the access list has nothing on the kind', () => {
    expect(usualClip({ ...drawing, access: [] }, 'R4/T4/F1.1')).toMatchObject({
      spot: 'face',
      surface: 'bare',
    })
    expect(usualClip(drawing, 'R4/T4/F1.1').surface).not.toBe('bare')
  })
})

describe('instrument and lead', () => {
  const none = { kit: null, lead: null }
  const sameMorning = '2026-05-12T10:50:00+02:00'

  it('of a site without a visit are the ones that the first reading opens one with', () => {
    const empty = newSite({
      id: '00000000-0000-4000-8000-000000000001',
      revision: '00000000-0000-4000-8000-000000000002',
      name: 'Empty',
      units: 'metric',
    })
    expect(measuringSetup(empty, none, sameMorning)).toMatchObject({
      visit: null,
      kit: { id: 'two-wire-200ma' },
      lead: { lengthM: 50, areaMm2: 1.5 },
      nulling: null,
    })
  })

  it('go on as the visit has them, with its last nulling', () => {
    const site = field()
    const setup = measuringSetup(site, none, sameMorning)
    const last = countedEntries(site.record, 'nulling').at(-1)
    expect(setup).toMatchObject({ kit: { id: 'two-wire-200ma' }, lead: { id: 'lead50' } })
    expect(setup.nulling?.id).toBe(last?.id)
    const later = countedEntries(site.record, 'reading').filter(
      ({ at }) => Date.parse(at) > Date.parse(last!.at),
    )
    expect(setup.readingsSinceNulling).toBe(later.length)
  })

  it('keep a nulling of up to four hours; an older one is old, whatever else is read meanwhile', () => {
    const site = field()
    const nulledAt = Date.parse(countedEntries(site.record, 'nulling').at(-1)!.at)
    const after = (hours: number) =>
      measuringSetup(site, none, new Date(nulledAt + hours * 3_600_000).toISOString())
    expect(after(3.9)).toMatchObject({ isNullingOld: false, visit: { entry: 'visit' } })
    expect(after(4.1)).toMatchObject({ isNullingOld: true, visit: { entry: 'visit' } })
    expect(after(4.1).nulling).not.toBeNull()
  })

  it('of a visit of another day go into a new one, its nullings do not', () => {
    const site = field()
    const setup = measuringSetup(site, none, '2026-11-25T08:00:00Z')
    const [visit] = countedEntries(site.record, 'visit')
    expect(setup).toMatchObject({ visit: null, nulling: null, isNullingOld: false, readings: 0 })
    expect(setup.earlierVisit?.id).toBe(visit.id)
    expect(setup.kits).toEqual(visit.kits)
    expect(setup.leads).toEqual(visit.leads)
    expect(setup.lastNulledAt).toBe(countedEntries(site.record, 'nulling').at(-1)!.at)
  })

  it('go on past midnight while somebody reads', () => {
    const site = field()
    const night = (at: string, now: string) => {
      const record = site.record.map((entry) => ({ ...entry, at }))
      return measuringSetup({ ...site, record }, none, now)
    }
    expect(night('2026-05-12T22:30:00Z', '2026-05-13T00:30:00Z').visit).not.toBeNull()
    expect(night('2026-05-12T20:00:00Z', '2026-05-13T00:30:00Z').visit).toBeNull()
    // the day is that of the clock in hand
    expect(night('2026-05-12T10:30:00Z', '2026-05-13T01:30:00+09:00').visit).toBeNull()
  })

  it('take neither lead nor nulling into a four-wire reading, nor an instrument that reads no pair unless it is chosen', () => {
    const site = field()
    const record = site.record.map((entry): Entry =>
      entry.entry === 'visit' ? { ...entry, kits: [defaultKits[3], defaultKits[1]] } : entry,
    )
    const setupOf = (kit: string | null) =>
      measuringSetup({ ...site, record }, { kit, lead: 'lead50' }, sameMorning)
    expect(setupOf(null)).toMatchObject({ kit: { id: defaultKits[1].id }, lead: null, nulling: null })
    expect(setupOf(defaultKits[3].id)).toMatchObject({ kit: { method: 'loopClamp' }, lead: null })
  })
})

describe('lines below the field of a pair', () => {
  const { drawing } = field()
  const indexed = indexSite(drawing)
  if (!indexed.ok) throw new Error('the field demo cannot be indexed')
  const finder = new PlaceFinder(indexed.value, openNameBook(drawing))
  const lines = (typed: string) =>
    findLines(finder, finder.find(typed, 'parts'), 'parts', typed, ['4-05']).map((line) =>
      line.kind === 'place' && line.place.kind === 'part' ? line.place.address : line,
    )

  it('are equipment before anything is typed', () => {
    expect(lines('')).toEqual(['E1', 'B1', 'G1', 'G2'])
  })

  it('follow an address as it grows, and exist', () => {
    const found = lines('r4/t7/l1')
    expect(found).toHaveLength(8)
    for (const address of found) {
      expect(address).toMatch(/^R4\/T7\/L1/)
      expect(partExists(drawing, parsePartAddress(address as string)!)).toBe(true)
    }
  })

  it('follow a painted label', () => {
    expect(lines('4-06')[0]).toBe('R4/T6/F1.1')
  })

  it('are what could be typed where nothing fits', () => {
    expect(lines('zzz')).toEqual([{ kind: 'example', text: '4-05' }])
    expect(lines('R4/T9999/')).toEqual([{ kind: 'example', text: '4-05' }])
  })
})

describe('rows of readings', () => {
  const none = { locate: new Map(), judge: new Map() }

  it('are numbered in canonical order, whatever the order of the file', () => {
    const site = field()
    const shuffled = { ...site, record: site.record.toReversed() }
    const ids = (from: Site) =>
      readingRows(from, none).map(({ number, reading }) => `${number} ${reading.id}`)
    expect(ids(shuffled)).toEqual(ids(site))
    expect(ids(site)[0]).toMatch(/^1 /)
    expect(readingRows(site, none).every(({ look }) => look === 'waiting')).toBe(true)
  })

  it('keep a withdrawn reading in its place, set aside', () => {
    const site = field()
    const [first] = countedEntries(site.record, 'reading')
    const withdrawal: Entry = {
      id: '00000000-0000-4000-8000-000000000009',
      device: first.device,
      counter: 9999,
      at: '2031-01-01T00:00:00Z',
      entry: 'withdrawal',
      visit: first.visit,
      of: first.id,
      reason: '',
    }
    const rows = readingRows({ ...site, record: [...site.record, withdrawal] }, none)
    expect(rows[0]).toMatchObject({
      number: 1,
      look: 'setAside',
      withdrawal: { id: withdrawal.id },
      reading: { id: first.id },
    })
    expect(rows).toHaveLength(readingRows(site, none).length)
  })
})
