import { expect, it } from 'vitest'
import { assert } from '../../src/base/assert.ts'
import { wholly } from '../../src/base/portion.ts'
import { randomStream } from '../../src/base/random.ts'
import { planTerms } from '../../src/engine/answerCoverage.ts'
import { finish } from '../../src/engine/progress.ts'
import { emptySiteCache, preparedOf } from '../../src/engine/siteCache.ts'
import { likeTables } from '../../src/plan/likeTables.ts'
import { viewsOfLike } from '../../src/plan/likeViews.ts'
import type { PartPair } from '../../src/plan/ownPairs.ts'
import { viewsIn } from '../../src/plan/sightBook.ts'
import { largeDrawing } from '../bench/locate/largeField.ts'
import { benchSite } from '../bench/plan/benchSites.ts'
import { fourWire, longLead } from './askCoverage.ts'

const counted = { countIncidental: true, asBuilt: false }

it('of many tables read off what a like pair shows, and what it reads, as a solve of its own says', () => {
  const site = { ...benchSite('field, A').site, drawing: largeDrawing(9, 60) }
  const cache = emptySiteCache()
  const prepared = finish(preparedOf(site.drawing, counted, cache))
  assert(prepared.ok, 'the site compiles')
  const asked = { ...counted, severity: 'open', kit: fourWire, lead: longLead } as const
  const { book } = wholly(planTerms(asked, site, prepared.value, cache))
  const tables = wholly(likeTables(prepared.value.network))
  expect(tables.classCount).toBeLessThan(tables.tableCount / 10)
  const random = randomStream(20260607)
  const pairs: PartPair[] = []
  for (const on of [0, 0, 0, 1, 1, 2]) {
    const one = random.integer(40)
    const other = random.integer(40)
    for (let t = 0; t < tables.tableCount - on; t += 1 + random.integer(24)) {
      const pair = { a: tables.firstPart[t] + one, b: tables.firstPart[t + on] + other }
      if (pair.a !== pair.b) pairs.push(pair)
    }
  }
  pairs.push(...pairs.slice(0, 3))
  const read = wholly(viewsOfLike(book, pairs))
  const solvedOnTheWay = book.views.size
  const solved = wholly(viewsIn(book, pairs))
  expect(solvedOnTheWay).toBeLessThan(book.views.size / 2)
  expect(new Set(read).size).toBe(new Set(solved).size)
  let shown = 0
  let others = 0
  read.forEach((view, k) => {
    const own = solved[k]
    expect([view.a, view.b]).toEqual([own.a, own.b])
    expect(Math.abs(view.expectedOhm / own.expectedOhm - 1)).toBeLessThan(0.001)
    expect(Math.abs(view.leastRiseOhm / own.leastRiseOhm - 1)).toBeLessThan(0.03)
    const riseOf = new Map(Array.from(own.edge, (e, at) => [e, own.riseOhm[at]]))
    view.edge.forEach((e, at) => {
      if (at > 0) expect(e).toBeGreaterThan(view.edge[at - 1])
      if (view.riseOhm[at] < view.leastRiseOhm) return
      shown++
      const rise = riseOf.get(e)
      if (rise === undefined) others++
      else if (rise < Infinity) expect(view.riseOhm[at] / rise).toBeCloseTo(1, 1)
    })
  })
  expect(shown).toBeGreaterThan(200)
  expect(others / shown).toBeLessThan(0.005)
})
