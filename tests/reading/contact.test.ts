import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { assumptions } from '../../src/reading/assumptions.ts'
import { logPoorContactDensity, poorContactOverRange, soundContact } from '../../src/reading/contact.ts'

const { contact } = assumptions

describe('a sound contact', () => {
  it('has the moments of the log-normal that is assumed', () => {
    const random = randomStream(11)
    const n = 200_000
    let sum = 0
    let square = 0
    for (let i = 0; i < n; i++) {
      const x = contact.medianOhm * Math.exp(contact.lnSpread * random.normal())
      sum += x
      square += x * x
    }
    const mean = sum / n
    expect(soundContact.meanOhm / mean).toBeCloseTo(1, 2)
    expect(soundContact.sdOhm / Math.sqrt(square / n - mean * mean)).toBeCloseTo(1, 1)
  })
})

describe('the density of a poor contact', () => {
  it('integrates to the share that shows ohms at all', () => {
    const sd = 0.02
    let total = 0
    // in ln ohm from 0.1 mΩ to 2 kΩ, and the strip around zero that the prediction's own spread reaches
    const steps = 40_000
    const from = Math.log(1e-4)
    const to = Math.log(2000)
    for (let k = 0; k < steps; k++) {
      const x = Math.exp(from + ((to - from) * (k + 0.5)) / steps)
      total += (Math.exp(logPoorContactDensity(x, sd)) * x * (to - from)) / steps
    }
    for (let x = -0.1; x < 1e-4; x += 1e-5) total += Math.exp(logPoorContactDensity(x + 5e-6, sd)) * 1e-5
    expect(total).toBeCloseTo(1 - contact.poorOverRange, 2)
  })

  it('is that of the log-normal where the prediction is sharp, without gaps between its nodes', () => {
    const share = 1 - contact.poorOverRange - contact.poorHigh
    for (let ln = Math.log(0.003); ln < Math.log(2); ln += 0.05) {
      const x = Math.exp(ln)
      const z = (ln - Math.log(contact.poorMedianOhm)) / contact.poorLnSpread
      const exact = (share * Math.exp(-0.5 * z * z)) / (x * contact.poorLnSpread * Math.sqrt(2 * Math.PI))
      expect(Math.exp(logPoorContactDensity(x, x / 1000)) / exact).toBeGreaterThan(0.85)
      expect(Math.exp(logPoorContactDensity(x, x / 1000)) / exact).toBeLessThan(1.2)
    }
  })

  it('only adds: a reading far below its prediction is no poor contact', () => {
    expect(logPoorContactDensity(-0.3, 0.02)).toBeLessThan(logPoorContactDensity(0.05, 0.02) - 40)
  })

  it('counts what lies beyond an instrument range as over range', () => {
    expect(poorContactOverRange(100_000)).toBeCloseTo(contact.poorOverRange, 12)
    expect(poorContactOverRange(100)).toBeCloseTo(contact.poorOverRange + contact.poorHigh / 2, 12)
    expect(poorContactOverRange(1)).toBeCloseTo(contact.poorOverRange + contact.poorHigh, 12)
  })
})
