import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { parseStations, toggleStation, writeStations } from '../../src/model/stationList.ts'
import { describeStationTrouble } from '../../src/text/stationText.ts'

const sentence = (text: string, last = 11) => {
  const read = parseStations(text, last)
  return read.ok ? 'read' : describeStationTrouble(read.error)
}

describe('a list of stations', () => {
  it.each([
    ['2, 5, 8, 10', [2, 5, 8, 10]],
    ['10 8 5 2', [2, 5, 8, 10]],
    ['2;5 , 8', [2, 5, 8]],
    ['3-6', [3, 4, 5, 6]],
    ['1, 3 – 5, 11', [1, 3, 4, 5, 11]],
    ['2 to 4', [2, 3, 4]],
  ])('reads %s', (text, stations) => {
    expect(parseStations(text, 11)).toEqual({ ok: true, value: stations })
  })

  it('says what is wrong and what would be right', () => {
    expect(sentence('')).toBe('At least one station is needed here, such as 2, 5, 8.')
    expect(sentence('2, x')).toBe(
      '“x” is no station. Type numbers with commas between them, such as 2, 5, 8.',
    )
    expect(sentence('2.5')).toContain('“2.5” is no station')
    expect(sentence('2, 12')).toBe('There is no station 12 here; the last is 11.')
    expect(sentence('0, 2')).toBe('Stations count from 1, the outer edge of the first module.')
    expect(sentence('2, 5, 2')).toBe('Station 2 is named twice. Take one of them out.')
    expect(sentence('2-4, 3')).toBe('Station 3 is named twice. Take one of them out.')
    expect(sentence('8-5')).toBe('“8-5” runs backwards. Type the lower station first.')
    expect(sentence('1-999999')).toBe('There is no station 999999 here; the last is 11.')
  })

  it('takes an empty list where none may be', () => {
    expect(parseStations(' , ', 11, { mayBeNone: true })).toEqual({ ok: true, value: [] })
  })

  it('reads back what it writes', () => {
    const any = fc.uniqueArray(fc.integer({ min: 1, max: 401 }), { minLength: 1, maxLength: 60 })
    fc.assert(
      fc.property(any, (stations) => {
        const sorted = [...stations].sort((a, b) => a - b)
        expect(parseStations(writeStations(stations), 401)).toEqual({ ok: true, value: sorted })
      }),
      { seed: 3 },
    )
  })

  it('sets and clears one', () => {
    expect(toggleStation([2, 8], 5)).toEqual([2, 5, 8])
    expect(toggleStation([2, 5, 8], 5)).toEqual([2, 8])
  })
})
