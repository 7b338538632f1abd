import { describe, expect, it } from 'vitest'
import type { Observation } from '../../src/locate/observations.ts'
import { brokenAfter, lastRunOf, logOverRange, logOverRun, overRunsOf } from '../../src/locate/overRange.ts'
import { assumptions } from '../../src/reading/assumptions.ts'

/** As much of an observation as over-range readings are judged by. */
const taken = (ohm: number | null, interval = 0): Observation =>
  ({ ohm, interval, poorRate: 0.03, atLeastOhm: 200 }) as Observation

describe('over-range readings through one lead', () => {
  it('form runs that a reading in range ends; without a lead each is by itself', () => {
    const observations = [taken(0.1), taken(null), taken(null), taken(0.2), taken(null), taken(null, -1)]
    const runs = overRunsOf(observations).map(({ readings }) => readings)
    expect(runs.toSorted((a, b) => a[0] - b[0])).toEqual([[1, 2], [4], [5]])
    expect(lastRunOf(overRunsOf(observations), observations, 0)?.readings).toEqual([4])
    expect(lastRunOf(overRunsOf(observations), observations, -1)).toBeNull()
  })

  it('are one witness: a broken lead explains five no worse than two', () => {
    const logOf = (count: number) => {
      const observations = [
        ...Array.from({ length: 6 - count }, () => taken(0.01)),
        ...Array.from({ length: count }, () => taken(null)),
      ]
      const [run] = overRunsOf(observations)
      const low = new Float64Array(6).fill(0.01)
      const sd = new Float64Array(6).fill(0.01)
      return logOverRun(run, observations, low, sd, undefined, new Float64Array(6))
    }
    expect(Math.abs(logOf(5) - logOf(2))).toBeLessThan(0.1)
    // by the sum over the places where it may have broken, written out
    const alone = Math.exp(logOverRange(taken(null), 0.01, 0.01))
    const before = assumptions.brokenLead / 6
    expect(Math.exp(logOf(2))).toBeCloseTo(alone * alone + before * (1 + alone), 12)
  })

  it('say nothing of a broken lead where the points lie that far apart', () => {
    const observations = [taken(null), taken(null)]
    const [run] = overRunsOf(observations)
    const far = new Float64Array(2).fill(Infinity)
    const sd = new Float64Array(2).fill(1)
    const spoiled = new Float64Array(2)
    expect(logOverRun(run, observations, far, sd, undefined, spoiled)).toBeLessThan(0.02)
    expect(Math.max(...spoiled)).toBeLessThan(0.02)
    expect(brokenAfter(run, observations, far, sd)).toBeLessThan(0.02)
    const near = new Float64Array(2).fill(0.01)
    expect(brokenAfter(run, observations, near, sd)).toBeGreaterThan(0.9)
  })
})
