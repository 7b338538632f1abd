import { describe, expect, it } from 'vitest'
import { changedSince } from '../../../src/panels/reading/changedSince.ts'
import { otherUnit as otherUnitOf } from '../../../src/panels/reading/otherUnit.ts'
import type { Entry } from '../../../src/model/schema/record.ts'

const otherUnit = (text: string, unit: 'Ω' | 'mΩ', expectedOhm: number | null, spreadOhm = 0.002) =>
  otherUnitOf(text, unit, expectedOhm === null ? null : { expectedOhm, spreadOhm })

describe('a bare number that may be in the other unit', () => {
  it('is asked about where it fits what is expected in that one alone', () => {
    expect(otherUnit('12', 'Ω', 0.012)).toBe('mΩ')
    expect(otherUnit('12', 'mΩ', 9)).toBe('Ω')
    // a lead of its own ohms: what is expected is hardly more than its spread
    expect(otherUnit('30', 'Ω', 0.006, 0.032)).toBe('mΩ')
    expect(otherUnit('30', 'Ω', 0.006, 0.002)).toBeNull()
    expect(otherUnit('1', 'mΩ', 0.04, 0.032)).toBeNull()
  })

  it('is not where it stands right, where it names its unit, and where it fits in neither', () => {
    expect(otherUnit('12', 'mΩ', 0.012)).toBeNull()
    expect(otherUnit('0.012', 'Ω', 0.012)).toBeNull()
    expect(otherUnit('12 Ω', 'Ω', 0.012)).toBeNull()
    expect(otherUnit('12m', 'Ω', 0.012)).toBeNull()
    expect(otherUnit('2.2', 'Ω', 0.04, 0.032)).toBeNull()
    expect(otherUnit('2', 'Ω', 0.04, 0.032)).toBeNull()
    // a bad joint, and a number that is a little of both
    expect(otherUnit('2', 'Ω', 0.05)).toBeNull()
    expect(otherUnit('300', 'mΩ', 0.02)).toBeNull()
    for (const nothing of ['', '0', 'over', '-12']) expect(otherUnit(nothing, 'Ω', 0.012)).toBeNull()
    expect(otherUnit('12', 'Ω', null)).toBeNull()
    expect(otherUnit('12', 'Ω', Infinity)).toBeNull()
  })
})

describe('an answer about a reading', () => {
  const stamp = { device: 'd', counter: 0, at: '2031-05-04T08:00:00Z', visit: 'v', reason: '' }
  const reading = { ...stamp, id: 'r', entry: 'reading' } as unknown as Entry
  const withdrawal = (id: string, of: string): Entry => ({ ...stamp, id, entry: 'withdrawal', of })
  const correction = (id: string, of: string): Entry => ({
    ...stamp,
    ...{ id, of, entry: 'correction', result: { form: 'ohm', ohm: 1 }, from: null, to: null },
  })

  it('is of another value once it was corrected, withdrawn or counted again', () => {
    const record = [reading, correction('c', 'r'), withdrawal('w', 'r'), withdrawal('x', 'w')]
    expect(changedSince(record.slice(0, 2), { recordLength: 1 }, 'r')).toBe(true)
    expect(changedSince(record.slice(0, 3), { recordLength: 2 }, 'r')).toBe(true)
    expect(changedSince(record, { recordLength: 3 }, 'r')).toBe(true)
    expect(changedSince(record, { recordLength: 4 }, 'r')).toBe(false)
  })

  it('holds while other readings change', () => {
    const other = { ...reading, id: 'o' }
    expect(changedSince([reading, other, correction('c', 'o')], { recordLength: 1 }, 'r')).toBe(false)
    const ring = [reading, withdrawal('a', 'b'), withdrawal('b', 'a')]
    expect(changedSince(ring, { recordLength: 1 }, 'r')).toBe(false)
  })
})
