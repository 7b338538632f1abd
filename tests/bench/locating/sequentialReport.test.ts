import { describe, expect, it } from 'vitest'
import type { Found } from './sequential/follow.ts'
import { adviceName, halvingName } from './sequential/policies.ts'
import type { SequentialRow } from './sequential/sequentialRow.ts'
import { restricted, savingOf, sequentialReport, sinceHigh } from './sequentialReport.ts'

const run = (found: boolean, readings: number, minutes: number, high: Found['high'] = null): Found => ({
  found,
  readings,
  minutes,
  metres: 10,
  looks: 2,
  vainLooks: 1,
  vainMinutes: 1,
  high,
})
const row = (seed: number, advice: Found, halving: Found): SequentialRow => ({
  program: 'p',
  commit: 'c',
  family: 'rows',
  seed,
  faults: 1,
  visible: 1,
  ways: { [adviceName]: advice, [halvingName]: halving },
  bound: { entropyBits: 5, bitsPerReading: 1 },
  seconds: 1,
})

describe('what it costs to come to a bad joint', () => {
  it('is all there is where it is not found', () => {
    expect(restricted.readings(run(false, 3, 20))).toBe(40)
    expect(restricted.minutes(run(false, 3, 20))).toBe(240)
    expect(restricted.readings(run(true, 3, 20))).toBe(3)
  })

  it('counts from the first high reading on', () => {
    const found = run(true, 9, 60, { readings: 4, minutes: 20 })
    expect([sinceHigh.readings(found), sinceHigh.minutes(found)]).toEqual([5, 40])
    expect(sinceHigh.readings(run(true, 9, 60))).toBe(0)
  })

  it('is compared array by array', () => {
    const rows = [row(1, run(true, 4, 20), run(true, 10, 60)), row(2, run(true, 6, 30), run(true, 12, 80))]
    const { difference, share } = savingOf(rows, halvingName, restricted.readings)
    expect(difference).toEqual({ value: -6, low: -6, high: -6 })
    expect(share).toBeCloseTo(6 / 11, 12)
    const { bound } = sequentialReport(rows)
    // 5 bits, one of them by the two looks: 4 readings; 5 were taken
    expect(bound).toContain('| 4.0 (4.0 to 4.0) | 5.0 (3.0 to 7.0) | 1.25 |')
  })

  it('is not told without runs', () => {
    expect(sequentialReport([])).toEqual({})
  })
})
