import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { wholly } from '../../src/base/portion.ts'
import { planTerms, resolvePairs } from '../../src/engine/answerCoverage.ts'
import { emptySiteCache } from '../../src/engine/siteCache.ts'
import { partAddressAt } from '../../src/layout/partIndex.ts'
import { writePartAddress } from '../../src/model/address.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { propose, type ProposalTerms } from '../../src/plan/propose.ts'
import { viewsIn } from '../../src/plan/sightBook.ts'
import { layOutWalk } from '../../src/walk/layOut.ts'
import { prepare } from '../locate/rowSite.ts'
import { coverage, fourWire, longLead } from './askCoverage.ts'
import { everyPair } from './everyPair.ts'
import { allPairs, boxSites } from './randomSite.ts'

const wanted: ProposalTerms = { tellApart: 0, timesShown: 1, mostMinutes: null, persons: 1 }

function proposed(site: Site, boxes: Parameters<typeof allPairs>[0], required: number, terms: ProposalTerms) {
  const prepared = prepare(site)
  const { index } = prepared.network
  const input = {
    countIncidental: true,
    asBuilt: false,
    severity: 'open',
    kit: fourWire,
    lead: longLead,
  } as const
  const book = wholly(planTerms(input, site, prepared, emptySiteCache()))
  const resolved = resolvePairs(index, allPairs(boxes))
  const pairs = resolved.ok ? resolved.value : []
  const views = wholly(viewsIn(book.book, pairs.slice(0, required)))
  const proposal = wholly(propose(book.book.sighting, everyPair(book, pairs), views, terms))
  const address = (part: number) => writePartAddress(partAddressAt(index, part))
  const walk = wholly(layOutWalk(index, proposal.pairs, { persons: terms.persons }))
  return {
    ...proposal,
    minutes: walk.minutes,
    required: views.map(({ a, b }) => ({ a, b })),
    shown: coverage(site, {
      pairs: proposal.pairs.map(({ a, b }) => ({ from: address(a), to: address(b) })),
      severity: 'open',
      kit: fourWire,
    }),
    all: coverage(site, { pairs: allPairs(boxes), severity: 'open', kit: fourWire }),
  }
}

describe('a proposed plan', () => {
  it('shows all that any pair within reach shows, required pairs first, with no fewer pairs than its bound', () => {
    fc.assert(
      fc.property(boxSites, fc.integer({ min: 0, max: 2 }), ({ boxes, site }, required) => {
        const plan = proposed(site, boxes, required, wanted)
        expect(plan.pairs.slice(0, plan.required.length)).toEqual(plan.required)
        const seen = ({ shownBy }: typeof plan.shown) => [...shownBy].map((times) => times > 0)
        expect(seen(plan.shown)).toEqual(seen(plan.all))
        expect(plan.bound?.pairs).toBeLessThanOrEqual(plan.pairs.length)
      }),
      { numRuns: 40, seed: 3 },
    )
  })

  it('shows twice whatever two pairs can show where that is asked for', () => {
    fc.assert(
      fc.property(boxSites, ({ boxes, site }) => {
        const plan = proposed(site, boxes, 0, { ...wanted, timesShown: 2 })
        const twice = ({ shownBy }: typeof plan.shown) => [...shownBy].map((times) => Math.min(2, times))
        expect(twice(plan.shown)).toEqual(twice(plan.all))
      }),
      { numRuns: 30, seed: 4 },
    )
  })

  it('keeps to its minutes, or to what is required where that takes longer, and then claims no bound', () => {
    fc.assert(
      fc.property(boxSites, fc.integer({ min: 5, max: 60 }), ({ boxes, site }, mostMinutes) => {
        const whole = proposed(site, boxes, 1, { ...wanted, tellApart: 0.5 })
        const plan = proposed(site, boxes, 1, { ...wanted, tellApart: 0.5, mostMinutes })
        if (whole.minutes <= mostMinutes) expect(plan.pairs).toEqual(whole.pairs)
        else expect(plan.bound).toBeNull()
        expect(plan.minutes <= mostMinutes || plan.pairs.length === plan.required.length).toBe(true)
      }),
      { numRuns: 30, seed: 5 },
    )
  })
})
