import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { present } from '../../src/base/assert.ts'
import { wholly } from '../../src/base/portion.ts'
import { planTerms } from '../../src/engine/answerCoverage.ts'
import { finish } from '../../src/engine/progress.ts'
import { emptySiteCache, preparedOf } from '../../src/engine/siteCache.ts'
import type { Kit } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { candidatesOf } from '../../src/plan/candidatePairs.ts'
import { shownByAny } from '../../src/plan/candidates.ts'
import type { CoverageTerms } from '../../src/plan/coverage.ts'
import { whys } from '../../src/plan/hidden.ts'
import { reasonsOf } from '../../src/plan/reasons.ts'
import { canGoBad, viewOfPair } from '../../src/plan/sighting.ts'
import { straightM } from '../../src/walk/reach.ts'
import { rowSite } from '../locate/rowSite.ts'
import { fourWire, longLead, twoWire } from './askCoverage.ts'
import { boxSites } from './randomSite.ts'

const counted = { countIncidental: true, asBuilt: false }

function termsOf(site: Site, kit: Kit): CoverageTerms {
  const cache = emptySiteCache()
  const prepared = finish(preparedOf(site.drawing, counted, cache))
  const network = present(prepared.ok ? prepared.value : null, 'the site compiles')
  return wholly(planTerms({ ...counted, severity: 'open', kit, lead: longLead }, site, network, cache))
}

function shownDirectly(terms: CoverageTerms, a: number, b: number): ReadonlyMap<number, number> {
  const { edge, squared, riseOhm, leastRiseOhm } = wholly(viewOfPair(terms.book.sighting, a, b))
  const shown = new Map<number, number>()
  edge.forEach((e, k) => {
    if (riseOhm[k] >= leastRiseOhm) shown.set(e, squared[k])
  })
  return shown
}

const fieldDemo = JSON.parse(
  readFileSync(new URL('../../demo-data/field.json', import.meta.url), 'utf8'),
) as Site

describe('candidate pairs', () => {
  it('of a small site are all that can be taken and show something, with what each shows', () => {
    fc.assert(
      fc.property(boxSites, ({ site }) => {
        const terms = termsOf(site, fourWire)
        const candidates = wholly(candidatesOf(terms))
        const { network } = terms.book.sighting.prepared
        expect(candidates.isComplete).toBe(true)
        let count = 0
        for (let a = 0; a < network.remoteEarth; a++) {
          for (let b = a + 1; b < network.remoteEarth; b++) {
            const shown = shownDirectly(terms, a, b)
            if (shown.size === 0 || straightM(network.index, a, b) > terms.reachable.reachM) continue
            const k = candidates.a.findIndex((part, at) => part === a && candidates.b[at] === b)
            expect([...candidates.edge.subarray(candidates.start[k], candidates.start[k + 1])]).toEqual([
              ...shown.keys(),
            ])
            count++
          }
        }
        expect(candidates.count).toBe(count)
      }),
      { numRuns: 25, seed: 8 },
    )
  })

  it('of like tables show what a solve of their own says', () => {
    const terms = termsOf(fieldDemo, fourWire)
    const candidates = wholly(candidatesOf(terms))
    expect(candidates.templateCount).toBeLessThan(candidates.count)
    let joints = 0
    let others = 0
    for (let k = 0; k < candidates.count; k += 97) {
      const shown = shownDirectly(terms, candidates.a[k], candidates.b[k])
      for (let s = candidates.start[k]; s < candidates.start[k + 1]; s++) {
        const squared = shown.get(candidates.edge[s])
        joints++
        if (squared === undefined) others++
        else expect(candidates.squared[s] / squared).toBeCloseTo(1, 1)
      }
      others += Math.abs(shown.size - (candidates.start[k + 1] - candidates.start[k]))
    }
    expect(joints).toBeGreaterThan(300)
    expect(others / joints).toBeLessThan(0.005)
  })

  it.each([
    ['field demo, two-wire', fieldDemo, twoWire],
    ['two rows, four-wire', rowSite(), fourWire],
  ])('show every joint that another pair is said to show: %s', (_, site, kit) => {
    const terms = termsOf(site, kit)
    const { network } = terms.book.sighting.prepared
    const shown = shownByAny(wholly(candidatesOf(terms)), network.edgeCount)
    const reasons = wholly(reasonsOf(terms))
    const addPair = whys.indexOf('addPair')
    for (let e = 0; e < network.edgeCount; e++) {
      if (canGoBad(network, e)) expect(shown[e]).toBe(reasons[e] === addPair ? 1 : 0)
    }
  })
})
