import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { timesLookOf } from '../../src/state/readingTimes.ts'
import { labelTimes } from '../../src/text/readingLookText.ts'
import { formatShown, shownSteps } from '../../src/text/shownSteps.ts'
import { reading } from '../text/locateAnswers.ts'

const timesLook = (more: Parameters<typeof reading>[1]) =>
  timesLookOf('r', {
    locate: new Map([['r', reading('r', { expectedOhm: 0.02, spreadOhm: 0.001, ...more })]]),
  })

describe('a reading as a multiple of what is expected', () => {
  it.each([
    [0.01, 'timesBelow', '0.5×'],
    [0.02, 'timesNear', '1×'],
    [0.029, 'timesNear', '1.4×'],
    [0.05, 'timesRaised', '2.5×'],
    [0.1, 'timesHigh', '5×'],
    [0.4, 'timesFar', '20×'],
    [40, 'timesFar', '> 999×'],
  ] as const)('%s Ω of 0.02 Ω is %s', (readOhm, look, label) => {
    const found = timesLook({ readOhm, verdict: 'highBySuspect' })
    expect(found.look).toBe(look)
    expect(labelTimes(found.times)).toBe(label)
  })

  it('is no multiple where the spread of what is expected explains it', () => {
    const found = timesLook({ readOhm: 0.06, spreadOhm: 0.03, verdict: 'inLine' })
    expect(found).toEqual({ look: 'timesNear', times: null })
    expect(labelTimes(found.times)).toBe('in line')
    expect(timesLook({ readOhm: 0, spreadOhm: 0.015, verdict: 'inLine' }).look).toBe('timesNear')
  })

  it('keeps the look of what has no value or does not count', () => {
    expect(timesLook({ verdict: 'overRange', readOhm: null }).look).toBe('overRange')
    expect(timesLook({ verdict: 'noMetalPath' }).look).toBe('noMetalPath')
    expect(timesLook({ verdict: 'setAside', setAside: 'beforeRepair' }).look).toBe('setAside')
    expect(timesLookOf('other', { locate: new Map() }).look).toBe('waiting')
  })

  it('never looks lower for more ohms', () => {
    const order = ['timesBelow', 'timesNear', 'timesRaised', 'timesHigh', 'timesFar']
    const ohm = fc.double({ min: 0, max: 10, noNaN: true })
    fc.assert(
      fc.property(
        ohm,
        ohm,
        fc.double({ min: 1e-4, max: 1, noNaN: true }),
        fc.double({ min: 1e-4, max: 1, noNaN: true }),
        (one, other, expectedOhm, spreadOhm) => {
          const rank = (readOhm: number) =>
            order.indexOf(timesLook({ readOhm, expectedOhm, spreadOhm, verdict: 'inLine' }).look)
          expect(rank(Math.max(one, other))).toBeGreaterThanOrEqual(rank(Math.min(one, other)))
        },
      ),
    )
  })
})

describe('what a reading showed', () => {
  const of = (kit: string, ohm: number) => ({ kit, result: { form: 'ohm' as const, ohm } })

  it('is below a step of its own instrument where that showed zeros', () => {
    const all = [of('a', 0), of('a', 0.03), of('a', 2.15), of('b', 0.0012), of('c', 0)]
    const steps = shownSteps(all)
    expect(all.map((one) => formatShown(one, steps))).toEqual([
      'below 10 mΩ',
      '30 mΩ',
      '2.15 Ω',
      '1.2 mΩ',
      '0 Ω',
    ])
    expect(formatShown({ kit: 'a', result: { form: 'over', atLeastOhm: 200 } }, steps)).toBe(
      'over range (more than 200 Ω)',
    )
  })
})
