import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { PlanInput } from '../../src/model/planning.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { answerOf, coverage, fourWire, longLead } from './askCoverage.ts'
import { allPairs, boxSites } from './randomSite.ts'

const usual: PlanInput = {
  countIncidental: true,
  asBuilt: false,
  kit: fourWire,
  lead: longLead,
  severity: 'open',
  required: [],
  how: 'proposed',
  tellApart: 0,
  timesShown: 1,
  mostMinutes: null,
  persons: 1,
}

const plan = (site: Site, input: Partial<PlanInput>) => answerOf('plan', { ...usual, ...input }, site)

describe('the answer about a plan', () => {
  it('shows all that any pair shows, walks every pair once, keeps what is required, and never goes below its bound', () => {
    fc.assert(
      fc.property(boxSites, fc.integer({ min: 0, max: 2 }), ({ boxes, site }, count) => {
        const required = allPairs(boxes).slice(0, count)
        const answer = plan(site, { required })
        const all = coverage(site, { pairs: allPairs(boxes) })
        // Rods are parts to read from, too, so that it may show more.
        const missed = [...all.shownBy].filter((times, e) => times > 0 && answer.coverage.shownBy[e] === 0)
        expect(missed).toEqual([])
        const walked = answer.pairs.map(({ from, to }) => [from, to].toSorted().join(' '))
        expect(new Set(walked).size).toBe(walked.length)
        const kept = answer.pairs.filter((pair) => pair.required)
        expect(kept.map(({ from, to }) => [from, to].toSorted().join(' ')).toSorted()).toEqual(
          required.map(({ from, to }) => [from, to].toSorted().join(' ')).toSorted(),
        )
        expect(answer.bound?.pairs).toBeLessThanOrEqual(answer.pairs.length)
        expect(answer.setUps.reduce((sum, { pairs }) => sum + pairs, 0)).toBe(answer.pairs.length)
        expect(answer.pairs.reduce((sum, { minutes }) => sum + minutes, 0)).toBeCloseTo(answer.minutes, 6)
        expect(answer.wayBoundM).toBeLessThanOrEqual(answer.wayM + 1e-9)
      }),
      { numRuns: 30, seed: 6 },
    )
  })

  it('keeps a required pair that cannot be taken, and says so', () => {
    const [{ boxes, site }] = fc.sample(boxSites, { numRuns: 1, seed: 2 })
    const far = allPairs(boxes)[0]
    const short = { ...longLead, lengthM: 2 }
    const answer = plan(site, { required: [far], lead: short })
    expect(answer.outOfReach).toEqual([far])
    expect(answer.pairs.filter((pair) => pair.required)).toHaveLength(1)
    expect(answer.bound?.pairs).toBeGreaterThanOrEqual(1)
  })

  it('lays out a pattern without a bound', () => {
    const [{ site }] = fc.sample(boxSites, { numRuns: 1, seed: 2 })
    const answer = plan(site, { how: 'chain' })
    expect(answer.bound).toBeNull()
    expect(answer.pairs.length).toBeGreaterThan(0)
  })
})
