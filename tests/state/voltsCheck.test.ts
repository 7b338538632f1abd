import { describe, expect, it } from 'vitest'
import type { Entry, EntryOf } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { newSite } from '../../src/model/newSite.ts'
import { openedVisit } from '../../src/state/entries.ts'
import { mostVoltsOf, voltsStanding, voltsState } from '../../src/state/voltsCheck.ts'

let ids = 0
const newId = () => `00000000-0000-4000-8000-${String(++ids).padStart(12, '0')}`
const device = '11111111-1111-4111-8111-111111111111'
const at = (clock: string) => `2026-05-12T${clock}:00Z`
const empty = newSite({ id: newId(), revision: newId(), name: 'Fieldgate', units: 'metric' })
const visit: EntryOf<'visit'> = {
  ...openedVisit(empty, { newId, device, now: () => at('08:00') }, [], []),
  inverter: 'off',
}

let counter = 1
const inVisit = (clock: string) => ({
  id: newId(),
  device,
  counter: counter++,
  at: at(clock),
  visit: visit.id,
})

function volts(clock: string, change: Partial<EntryOf<'volts'>> = {}): EntryOf<'volts'> {
  const low = { directV: 0, alternatingV: 0.4 }
  return { ...inVisit(clock), entry: 'volts', from: 'B1', to: 'R1/T1/F1.1', ...low, toEarth: low, ...change }
}

function amended(clock: string, change: Partial<EntryOf<'amendment'>>): EntryOf<'amendment'> {
  const { id: _id, device: _device, counter: _counter, at: _at, entry: _entry, ...facts } = visit
  return { ...facts, ...inVisit(clock), entry: 'amendment', ...change }
}

const siteOf = (...entries: Entry[]): Site => ({ ...empty, record: [visit, ...entries] })
const now = at('11:00')

describe('volts before ohms', () => {
  it('are asked at a set-up where none were read, also where they were read at another', () => {
    expect(voltsState(siteOf(), visit, 'B1', now)).toBe('asked')
    expect(voltsState(siteOf(volts('10:00', { from: 'B2' })), visit, 'B1', now)).toBe('asked')
    expect(voltsState(siteOf(volts('10:00')), null, 'B1', now)).toBe('asked')
    expect(voltsState(siteOf(volts('10:00')), visit, 'B1', now)).toBe('held')
  })

  it('are of their visit alone', () => {
    const other = { ...visit, id: newId() }
    expect(voltsState(siteOf(other, volts('10:00', { visit: other.id })), visit, 'B1', now)).toBe('asked')
  })

  it.each([
    ['between the clips, DC', { directV: 10.1 }],
    ['with the other sign', { directV: -10.1 }],
    ['between the clips, AC', { alternatingV: 10.1 }],
    ['to earth, DC', { toEarth: { directV: -480, alternatingV: 0 } }],
    ['to earth, AC', { toEarth: { directV: 0, alternatingV: 10.1 } }],
  ])('are too high %s', (_, change) => {
    const high = volts('10:00', change)
    expect(voltsState(siteOf(high), visit, 'B1', now)).toBe('tooHigh')
    expect(mostVoltsOf(high)).toBeGreaterThan(10)
  })

  it('hold at the threshold itself, which the site can move', () => {
    const site = siteOf(volts('10:00', { directV: 10 }))
    expect(voltsState(site, visit, 'B1', now)).toBe('held')
    const { drawing } = site
    const strict = { ...site, drawing: { ...drawing, facts: { ...drawing.facts, mostVolts: 5 } } }
    expect(voltsState(strict, visit, 'B1', now)).toBe('tooHigh')
  })

  it('are asked again after a check that was withdrawn, and stay too high where an earlier one was', () => {
    const withdrawal = (of: Entry): Entry => ({
      ...inVisit('10:30'),
      entry: 'withdrawal',
      of: of.id,
      reason: '',
    })
    const [low, high] = [volts('10:10'), volts('10:20', { directV: 400 })]
    const stand = (...entries: Entry[]) => voltsStanding(siteOf(...entries), visit, 'B1', now)
    expect(stand(low, withdrawal(low))).toMatchObject({ state: 'asked', why: 'withdrawn' })
    // an earlier check does not stand in for the one that was withdrawn
    expect(stand(volts('09:00'), low, withdrawal(low))).toMatchObject({ state: 'asked', why: 'withdrawn' })
    expect(stand(low, high, withdrawal(high))).toMatchObject({ state: 'asked', why: 'withdrawn' })
    expect(stand(high, volts('10:25'), withdrawal(low)).state).toBe('held')
    const after = volts('10:25')
    expect(stand(high, after, withdrawal(after)).state).toBe('tooHigh')
    expect(stand(low, withdrawal(low), volts('10:40')).state).toBe('held')
    const back = withdrawal(low)
    expect(stand(low, back, withdrawal(back)).state).toBe('held')
  })

  it('of an electrode and of a pair are different set-ups; what is too high at either locks both', () => {
    const spikes = (clock: string, change: Partial<EntryOf<'volts'>> = {}) =>
      volts(clock, { to: 'earth', ...change })
    const stand = (setUp: 'pair' | 'electrode', ...entries: Entry[]) =>
      voltsState(siteOf(...entries), visit, 'B1', now, setUp)
    expect(stand('electrode')).toBe('asked')
    expect(stand('electrode', volts('10:00'))).toBe('asked')
    expect(stand('electrode', spikes('10:00'))).toBe('held')
    expect(stand('pair', spikes('10:00'))).toBe('asked')
    const high = { directV: 0, alternatingV: 31 }
    expect(stand('electrode', spikes('10:00', high))).toBe('tooHigh')
    expect(stand('pair', volts('09:50'), spikes('10:00', high))).toBe('tooHigh')
    expect(stand('electrode', spikes('09:50'), volts('10:00', high))).toBe('tooHigh')
    // a low check at the other set-up does not take it back
    expect(stand('electrode', spikes('10:00', high), volts('10:10'))).toBe('tooHigh')
    expect(stand('electrode', spikes('10:00', high), volts('10:10'), spikes('10:20'))).toBe('held')
  })

  it('stay too high over hours and other isolation, until a later check is low', () => {
    const high = volts('08:10', { directV: 31 })
    expect(voltsState(siteOf(high, amended('08:20', { isolators: 'open' })), visit, 'B1', at('16:00'))).toBe(
      'tooHigh',
    )
    expect(voltsState(siteOf(high, volts('08:30')), visit, 'B1', at('09:00'))).toBe('held')
    expect(voltsState(siteOf(volts('08:05'), high), visit, 'B1', at('09:00'))).toBe('tooHigh')
  })

  it('are asked again after four hours, where they were not read to earth, and where isolation is noted otherwise', () => {
    expect(voltsStanding(siteOf(volts('06:59')), visit, 'B1', now)).toMatchObject({
      state: 'asked',
      why: 'old',
    })
    expect(voltsStanding(siteOf(volts('10:00', { toEarth: null })), visit, 'B1', now)).toMatchObject({
      state: 'asked',
      why: 'noEarth',
    })
    const change = amended('10:30', { inverter: 'running' })
    expect(voltsStanding(siteOf(volts('10:00'), change), visit, 'B1', now)).toMatchObject({
      state: 'asked',
      why: 'isolation',
    })
    expect(voltsState(siteOf(volts('10:00'), change, volts('10:40')), visit, 'B1', now)).toBe('held')
    // people and weather are no isolation
    expect(voltsState(siteOf(volts('10:00'), amended('10:30', { weather: 'sun' })), visit, 'B1', now)).toBe(
      'held',
    )
  })

  it('count no check that was withdrawn', () => {
    const check = volts('10:00')
    const withdrawal: Entry = { ...inVisit('10:05'), entry: 'withdrawal', of: check.id, reason: 'wrong clip' }
    expect(voltsState(siteOf(check, withdrawal), visit, 'B1', now)).toBe('asked')
  })
})
