import { describe, expect, it } from 'vitest'
import type { Entry, Kit, Lead } from '../../src/model/schema/record.ts'
import { digitsSdOhm, gainSd } from '../../src/reading/kitError.ts'
import { leadOhm } from '../../src/reading/leadOhm.ts'
import { bookIntervals } from '../../src/reading/nulling.ts'

const lead: Lead = { id: 'long', name: 'spool', lengthM: 50, areaMm2: 1.5, material: 'copper' }
const kit: Kit = {
  id: 'a',
  name: 'A',
  serial: '1',
  method: 'twoWire',
  testCurrentA: 0.2,
  resolutionOhm: 0.01,
  gainError: 0.02,
  digits: 3,
  mostOhm: 2000,
  calibrationDue: null,
  lastCheck: null,
}
const uuid = (n: number) => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`
const at = (minute: number) => `2031-05-04T08:${String(minute).padStart(2, '0')}:00Z`
const identity = (n: number) => ({ id: uuid(n), device: uuid(900), counter: n, at: at(n) })
const spot = (part: string) => ({ part, spot: 'face', surface: 'bare' }) as const
const visit: Entry = {
  ...identity(1),
  entry: 'visit',
  party: [],
  purpose: '',
  kits: [kit, { ...kit, id: 'b', method: 'fourWire' }],
  leads: [lead],
  weather: '',
  ambientC: 30,
  isolation: '',
  inverter: 'unknown',
  isolators: 'unknown',
  lockOut: '',
}
const nulling = (n: number): Entry => ({
  ...identity(n),
  entry: 'nulling',
  visit: uuid(1),
  kit: 'a',
  lead: 'long',
  leadC: null,
  note: '',
})
const reading = (n: number, method: 'twoWire' | 'fourWire' = 'twoWire', useLead = true): Entry => ({
  ...identity(n),
  entry: 'reading',
  visit: uuid(1),
  method,
  kit: method === 'twoWire' ? 'a' : 'b',
  lead: useLead ? 'long' : null,
  from: spot('B1'),
  to: spot('E1'),
  around: null,
  result: { form: 'ohm', ohm: 0.1 },
  reverseOhm: null,
  unsteady: null,
  testCurrentA: null,
  metalC: null,
  trackerDeg: null,
  repeats: null,
  plan: null,
  planPair: null,
  trying: null,
  spikesM: null,
  photos: [],
  note: '',
})

describe('a long lead', () => {
  it('has the ohms of its copper and warms with it', () => {
    expect(leadOhm(lead, 20)).toBeCloseTo((1.7241e-8 * 50) / 1.5e-6, 3)
    expect(leadOhm(lead, 30) - leadOhm(lead, 20)).toBeCloseTo(0.0226, 3)
  })
})

describe('nulling intervals', () => {
  it('begin at each nulling with that instrument and lead, and four-wire readings have none', () => {
    const book = bookIntervals(
      [visit, nulling(2), reading(3), reading(4, 'fourWire'), nulling(5), reading(6)],
      20,
    )
    expect(book.intervals.map((i) => i.entry)).toEqual([uuid(2), uuid(5)])
    expect(book.intervalOf(uuid(3))).toBe(0)
    expect(book.intervalOf(uuid(6))).toBe(1)
    expect(book.intervalOf(uuid(4))).toBe(-1)
  })

  it('without nulling the whole lead is in the reading, known to a few per cent', () => {
    const book = bookIntervals([visit, reading(2), nulling(3), reading(4)], 20)
    const [unnulled, nulled] = book.intervals
    expect(unnulled.entry).toBeNull()
    expect(unnulled.offsetMeanOhm).toBeCloseTo(leadOhm(lead, 30), 9)
    expect(nulled.offsetMeanOhm).toBe(0)
    expect(nulled.offsetSdOhm).toBeGreaterThan(0.02)
    expect(nulled.offsetSdOhm).toBeLessThan(0.04)
    expect(unnulled.offsetSdOhm).toBeGreaterThan(nulled.offsetSdOhm)
  })

  it('keep readings with a short lead of another name apart from those with the long one', () => {
    const book = bookIntervals([visit, nulling(2), reading(3, 'twoWire', false), reading(4)], 20)
    expect(book.intervalOf(uuid(3))).not.toBe(book.intervalOf(uuid(4)))
    expect(book.intervals[book.intervalOf(uuid(3))].leadOhm).toBe(0)
  })
})

describe('instrument error', () => {
  it('is that of a rectangular distribution over the stated limits (JCGM 100:2008, 4.3.7)', () => {
    expect(digitsSdOhm({ ...kit, digits: 3 })).toBeCloseTo(Math.hypot(0.03, 0.005) / Math.sqrt(3), 12)
    expect(digitsSdOhm({ ...kit, digits: 0 })).toBeCloseTo(0.01 / Math.sqrt(12), 12)
    expect(gainSd(kit)).toBeCloseTo(0.02 / Math.sqrt(3), 12)
  })
})
