import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { personAnswer } from '../../../src/faultcurrent/body/personAnswer.ts'

const places = { kind: 'ac', prospectiveV: 230, ohmBetween: 0.02, durationS: 0.4, soilOhmM: 100 } as const
const bare = { other: null, surface: null, shoeOhm: 0, isWet: false } as const

describe('one who touches', () => {
  it('from hand to hand has the network alone in series', () => {
    const answer = personAnswer(places, { ...bare, other: 'R1/T1/F1.1', shoeOhm: 5000 })
    expect(answer).toMatchObject({ path: 'handToHand', seriesOhm: 0.02, bodyRule: 'bodyAlternating' })
  })

  it('from hand to feet has feet and shoes besides, and carries less for each of them', () => {
    const carries = (more: Partial<Parameters<typeof personAnswer>[1]>) =>
      personAnswer(places, { ...bare, ...more }).currents[1].currentA
    expect(personAnswer(places, bare).seriesOhm).toBeCloseTo(0.02 + 156.25, 9)
    expect(carries({ shoeOhm: 2000 })).toBeLessThan(carries({}))
    expect(carries({ surface: { ohmM: 3000, thicknessM: 0.1 } })).toBeLessThan(carries({}))
    expect(carries({ isWet: true })).toBeGreaterThanOrEqual(carries({}))
  })

  it('has the volts across the body that rules of touch voltages speak of, whatever the sign', () => {
    fc.assert(
      fc.property(fc.double({ min: -1500, max: 1500, noNaN: true }), (prospectiveV) => {
        const answer = personAnswer({ ...places, kind: 'dc', prospectiveV }, bare)
        expect(answer.prospectiveV).toBe(Math.abs(prospectiveV))
        expect(answer.touchV).toBe(answer.currents[1].touchV)
        expect(answer.touchV).toBeLessThanOrEqual(answer.prospectiveV)
        expect(answer.bodyRule).toBe('bodyDirect')
      }),
      { seed: 71, numRuns: 200 },
    )
  })
})
