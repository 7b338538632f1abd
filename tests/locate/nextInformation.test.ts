import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { randomStream, type RandomStream } from '../../src/base/random.ts'
import { entropyNats, informationNats } from '../../src/locate/next/information.ts'
import { foresee, tabulate } from '../../src/locate/next/outcomeTable.ts'
import { shownBelow, type Predictive, type Showing } from '../../src/locate/next/shown.ts'
import { assumptions } from '../../src/reading/assumptions.ts'

const showing: Showing = {
  poorRate: 0.03,
  falseLowRate: 0.01,
  brokenLeadRate: 0.01,
  emptyOhm: 0.004,
  emptySdOhm: 0.02,
  mostOhm: 200,
}
const clean: Showing = { ...showing, poorRate: 0, falseLowRate: 0, brokenLeadRate: 0 }

const of = (classOf: number, weight: number, meanOhm: number, sdOhm: number): Predictive => ({
  classOf,
  weight,
  meanOhm,
  sdOhm,
})

/** Nothing bad, two groups with a raised and an open state each, the rest: one of them without any path. */
const mixed: readonly Predictive[] = [
  of(0, 0.4, 0.03, 0.02),
  of(1, 0.15, 0.11, 0.03),
  of(1, 0.15, 3.2, 0.9),
  of(2, 0.12, 0.031, 0.021),
  of(2, 0.08, Infinity, 1),
  of(3, 0.1, 0.06, 0.025),
]

function informationOf(predictives: readonly Predictive[], classes: number, how: Showing): number {
  const { joint, cells } = tabulate(foresee(classes, predictives, how))
  return informationNats(joint, classes, cells)
}

/** Density of what is shown, written out from what docs/model.md says of a reading; null: over range. */
function density(ohm: number | null, p: Predictive, how: Showing): number {
  const { contact } = assumptions
  const wrong = 0.002
  const normal = (x: number, sd: number) => Math.exp(-0.5 * (x / sd) ** 2) / sd / Math.sqrt(2 * Math.PI)
  if (ohm === null) return 1 - shownBelow(p, how, how.mostOhm)
  let low = how.falseLowRate > 0 ? normal(ohm - how.emptyOhm, how.emptySdOhm) : 0
  const highest = p.meanOhm + 3 * p.sdOhm
  if (p.meanOhm === Infinity) low += ohm > 0 ? 1 / (1 + ohm) ** 2 : 0
  else low += ohm > 0 && ohm < highest ? 1 / highest : 0
  const slip = ohm > 0 ? wrong / (1 + ohm) ** 2 : 0
  if (p.meanOhm === Infinity) return (how.falseLowRate / 2) * low + slip
  const taken = 1 - how.poorRate - how.falseLowRate - how.brokenLeadRate - wrong
  // the poor contact by brute force: the spread of the prediction in 400 steps
  let poor = 0
  if (how.poorRate > 0) {
    for (let k = 0; k < 400; k++) {
      const z = -6 + (12 * (k + 0.5)) / 400
      const added = ohm - p.meanOhm - z * p.sdOhm
      if (added <= 0) continue
      const lnAt = Math.log(added / contact.poorMedianOhm)
      const logNormal = normal(lnAt, contact.poorLnSpread) / added
      const isHigh = added > contact.poorHighFromOhm && added < contact.poorHighToOhm
      const high = isHigh ? 1 / added / Math.log(contact.poorHighToOhm / contact.poorHighFromOhm) : 0
      const lowShare = 1 - contact.poorOverRange - contact.poorHigh
      poor += (12 / 400) * normal(z, 1) * (lowShare * logNormal + contact.poorHigh * high)
    }
  }
  return taken * normal(ohm - p.meanOhm, p.sdOhm) + how.poorRate * poor + (how.falseLowRate / 2) * low + slip
}

function draw(p: Predictive, how: Showing, random: RandomStream): number | null {
  const { contact } = assumptions
  const inRange = (ohm: number) => (ohm > how.mostOhm ? null : ohm)
  const slip = () => {
    const u = random.uniform()
    return inRange(u / (1 - u))
  }
  const which = random.uniform()
  const wrong = 0.002
  if (which < wrong) return slip()
  if (which < wrong + how.falseLowRate / 2) return inRange(how.emptyOhm + how.emptySdOhm * random.normal())
  if (which < wrong + how.falseLowRate) {
    return p.meanOhm === Infinity ? slip() : inRange((p.meanOhm + 3 * p.sdOhm) * random.uniform())
  }
  if (p.meanOhm === Infinity) return null
  if (which < wrong + how.falseLowRate + how.brokenLeadRate) return null
  const ohm = p.meanOhm + p.sdOhm * random.normal()
  if (which < wrong + how.falseLowRate + how.brokenLeadRate + how.poorRate) {
    const kind = random.uniform()
    if (kind < contact.poorOverRange) return null
    if (kind < contact.poorOverRange + contact.poorHigh) {
      const { poorHighFromOhm: from, poorHighToOhm: to } = contact
      return inRange(ohm + from * (to / from) ** random.uniform())
    }
    return inRange(ohm + contact.poorMedianOhm * Math.exp(contact.poorLnSpread * random.normal()))
  }
  return inRange(ohm)
}

/** Mutual information by drawing hypothesis and reading, with its standard error. */
function byDrawing(predictives: readonly Predictive[], classes: number, how: Showing, draws: number) {
  const random = randomStream(11)
  const ofClass = new Float64Array(classes)
  for (const { classOf, weight } of predictives) ofClass[classOf] += weight
  let sum = 0
  let squares = 0
  for (let d = 0; d < draws; d++) {
    let u = random.uniform()
    const chosen = predictives.find(({ weight }) => (u -= weight) < 0) ?? predictives[0]
    const ohm = draw(chosen, how, random)
    const likelihood = new Float64Array(classes)
    for (const p of predictives) likelihood[p.classOf] += p.weight * density(ohm, p, how)
    const total = likelihood.reduce((a, b) => a + b, 0)
    const nats = Math.log(likelihood[chosen.classOf] / ofClass[chosen.classOf] / total)
    sum += nats
    squares += nats * nats
  }
  const mean = sum / draws
  return { mean, error: Math.sqrt((squares / draws - mean * mean) / draws) }
}

const predictivesOf = fc
  .array(
    fc.record({
      classOf: fc.integer({ min: 0, max: 3 }),
      weight: fc.double({ min: 0.001, max: 1, noNaN: true }),
      meanOhm: fc.oneof(fc.double({ min: 0, max: 300, noNaN: true }), fc.constant(Infinity)),
      sdOhm: fc.double({ min: 0.002, max: 5, noNaN: true }),
    }),
    { minLength: 1, maxLength: 12 },
  )
  .map((drawn) => {
    const total = drawn.reduce((sum, { weight }) => sum + weight, 0)
    return drawn.map((p) => ({ ...p, weight: p.weight / total }))
  })

describe('information of a reading about the class', () => {
  it.each([
    ['poor contacts and false lows', showing],
    ['nothing spoiled', clean],
  ])('is what drawing says, within its error: %s', (_, how) => {
    const { mean, error } = byDrawing(mixed, 4, how, 10_000)
    const nats = informationOf(mixed, 4, how)
    expect(error).toBeLessThan(0.01)
    expect(nats).toBeGreaterThan(0.2)
    expect(Math.abs(nats - mean)).toBeLessThan(3 * error + 0.005 * mean)
  })

  it('is nothing for a pair that no hypothesis moves', () => {
    const still = [of(0, 0.5, 0.03, 0.02), of(1, 0.3, 0.03, 0.02), of(2, 0.2, 0.03, 0.02)]
    expect(informationOf(still, 3, showing)).toBeLessThan(1e-12)
  })

  it('is the whole entropy where no two classes can be mixed up', () => {
    const apart = [of(0, 0.5, 0.03, 0.001), of(1, 0.3, 1, 0.001), of(2, 0.2, 50, 0.01)]
    // what is wrong otherwise (0.2 %) takes its share
    const entropy = entropyNats([0.5, 0.3, 0.2])
    expect(informationOf(apart, 3, clean)).toBeGreaterThan(0.995 * entropy)
    expect(informationOf(apart, 3, clean)).toBeLessThanOrEqual(entropy + 1e-12)
  })

  it('is never above the entropy and never below nothing', () => {
    fc.assert(
      fc.property(predictivesOf, (predictives) => {
        const ofClass = new Float64Array(4)
        for (const { classOf, weight } of predictives) ofClass[classOf] += weight
        const nats = informationOf(predictives, 4, showing)
        expect(nats).toBeGreaterThanOrEqual(0)
        expect(nats).toBeLessThanOrEqual(entropyNats(ofClass) + 1e-12)
      }),
      { seed: 5, numRuns: 100 },
    )
  })

  it('does not depend on the order of the hypotheses, to the last bit', () => {
    fc.assert(
      fc.property(predictivesOf, fc.integer(), (predictives, seed) => {
        const random = randomStream(seed)
        const shuffled = predictives
          .map((p) => ({ p, at: random.uniform() }))
          .toSorted((a, b) => a.at - b.at)
          .map(({ p }) => p)
        expect(informationOf(shuffled, 4, showing)).toBe(informationOf(predictives, 4, showing))
      }),
      { seed: 6, numRuns: 100 },
    )
  })

  it('outcomes add up to 1, over range with them', () => {
    fc.assert(
      fc.property(predictivesOf, (predictives) => {
        const { joint } = tabulate(foresee(4, predictives, showing))
        expect(joint.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 10)
      }),
      { seed: 7, numRuns: 100 },
    )
  })
})

describe('what is shown', () => {
  it('is the sum of its density', () => {
    for (const p of mixed.filter(({ meanOhm }) => meanOhm < Infinity)) {
      for (const [from, to] of [
        [p.meanOhm - p.sdOhm, p.meanOhm + p.sdOhm],
        [p.meanOhm + 3 * p.sdOhm, p.meanOhm + 3 * p.sdOhm + 0.4],
        [20, 100],
      ]) {
        const steps = 2000
        let sum = 0
        for (let k = 0; k < steps; k++) {
          sum += (density(from + ((k + 0.5) * (to - from)) / steps, p, showing) * (to - from)) / steps
        }
        const chance = shownBelow(p, showing, to) - shownBelow(p, showing, from)
        expect(Math.abs(chance - sum)).toBeLessThan(1e-3 * sum + 2e-4)
      }
    }
  })
})
