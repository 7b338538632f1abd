import { describe, expect, it } from 'vitest'
import type { FaultAnswer, LimitedBy } from '../../src/model/faultAnswers.ts'
import { describeLimit, faultFacts, formatFaultAmpere, nameFaultRole } from '../../src/text/faultFlowText.ts'

const limits: readonly LimitedBy[] = ['sourceCurrent', 'resistance', 'insulation', 'noPath', 'noVoltage']

describe('the words of a fault’s current', () => {
  it('every limit has its own sentence, and none calls anything safe', () => {
    const sentences = limits.map((limit) => describeLimit(limit, 'metric'))
    expect(new Set(sentences).size).toBe(limits.length)
    for (const sentence of sentences) expect(sentence).not.toMatch(/\bsafe/i)
  })

  it('a US site is grounded', () => {
    expect(describeLimit('insulation', 'us')).toContain('not grounded')
    expect(nameFaultRole('earthing', 'us')).toBe('where the source is grounded')
    for (const limit of limits) expect(describeLimit(limit, 'us')).not.toMatch(/\bearth/)
  })

  it('amperes have a unit from insulation to arrays, and their sign', () => {
    expect(formatFaultAmpere(-8.81e-6)).toBe('−8.81 µA')
    expect(formatFaultAmpere(0.98e-3)).toBe('0.98 mA')
    expect(formatFaultAmpere(2787)).toBe('2.79 kA')
    expect(formatFaultAmpere(0)).toBe('0 A')
  })

  it('facts name what volts are to, and leave out what there is none of', () => {
    const answer = {
      faultA: 10,
      openV: 400,
      sourceV: 0.3,
      networkOhm: Infinity,
      faultV: 0.3,
      voltsTo: 'reference',
      throughEarthA: 0,
      backFeedA: 0,
      capacitance: { joule: 0, leakageA: 0 },
    } as unknown as FaultAnswer
    const facts = new Map(faultFacts(answer, 'metric'))
    expect(facts.get('The part, to where the source is earthed')).toBe('300 mV')
    expect(facts.get('Bond network on its way')).toBe('no path')
    expect(facts.size).toBe(6)
    expect(faultFacts({ ...answer, backFeedA: 60 }, 'metric')).toHaveLength(7)
  })
})
