import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { wholly } from '../../../src/base/portion.ts'
import { randomStream } from '../../../src/base/random.ts'
import { coverSetsOf, type CoverSets } from '../../../src/plan/choose/coverSets.ts'
import { exchanged } from '../../../src/plan/choose/exchange.ts'
import { fewest } from '../../../src/plan/choose/fewest.ts'
import { greedyCover, withoutSpare } from '../../../src/plan/choose/greedyCover.ts'
import { linearProgramme } from '../../../src/plan/choose/linearProgramme.ts'
import { provedBound } from '../../../src/plan/choose/provedBound.ts'
import { reduced } from '../../../src/plan/choose/reduce.ts'
import { relaxed } from '../../../src/plan/choose/relaxation.ts'
import { fullEffort, searched } from '../../../src/plan/choose/search.ts'
import { leastByTrying, meetsAll, smallSets } from './exhaustive.ts'

/** Sets whose every joint can be met as often as it needs. */
const attainable = (sets: CoverSets): boolean => {
  const times = new Int32Array(sets.joints)
  for (const e of sets.joint) times[e]++
  return sets.demand.every((demand, e) => demand > 0 && times[e] >= demand)
}

const randomSets = (
  seed: number,
  joints: number,
  candidates: number,
  size: number,
  demand = 1,
): CoverSets => {
  const random = randomStream(seed)
  const lists = Array.from({ length: candidates }, () => [
    ...new Set(Array.from({ length: size }, () => random.integer(joints))),
  ])
  return coverSetsOf(joints, lists, demand)
}

describe('the fewest candidates', () => {
  it('are as few as trying every choice finds, and the bound says so', () => {
    fc.assert(
      fc.property(smallSets(), (sets) => {
        const { chosen, bound } = wholly(fewest(sets))
        const least = leastByTrying(sets)
        expect(meetsAll(sets, chosen)).toBe(true)
        expect(chosen.length).toBe(least)
        expect(bound).toBe(least)
      }),
      { numRuns: 400 },
    )
  })

  it('are the same whenever they are asked for', () => {
    const sets = randomSets(5, 40, 100, 6)
    expect(wholly(fewest(sets))).toEqual(wholly(fewest(sets)))
  })

  it('of many alike pieces are those of one, again and again', () => {
    const one = randomSets(11, 12, 30, 4)
    const lists = Array.from({ length: 50 * 30 }, (_, i) => {
      const c = i % 30
      return Array.from(one.joint.slice(one.offset[c], one.offset[c + 1]), (e) => e + 12 * Math.floor(i / 30))
    })
    const single = wholly(fewest(one))
    const many = wholly(fewest(coverSetsOf(12 * 50, lists)))
    expect(many.chosen).toEqual(
      Array.from({ length: 50 }, (_, k) => single.chosen.map((c) => c + 30 * k)).flat(),
    )
    expect(many.bound).toBe(50 * single.bound)
  })

  it('stay at or above the bound, and meet all, on sets too large to try', () => {
    for (const [seed, demand] of [
      [1, 1],
      [2, 2],
    ]) {
      const sets = randomSets(seed, 150, 400, 8, demand)
      const { chosen, bound } = wholly(fewest(sets, { steps: 1e5, testEntries: 0 }))
      expect(meetsAll(sets, chosen)).toBe(true)
      expect(bound).toBeLessThanOrEqual(chosen.length)
      expect(chosen.length).toBeLessThanOrEqual(
        withoutSpare(sets, sets.demand, greedyCover(sets, sets.demand.slice())).length,
      )
    }
  })
})

describe('each step on the way', () => {
  it('reduces without changing the least number', () => {
    fc.assert(
      fc.property(smallSets(), (sets) => {
        const left = wholly(reduced(sets))
        expect(left.forced.length + leastByTrying(left.sets)).toBe(leastByTrying(sets))
      }),
      { numRuns: 300 },
    )
  })

  it('solves a tree of forced joints by reducing alone', () => {
    // A run of five joints, pairs of at most three joints: the ends are shown by what covers their neighbours too.
    const sets = coverSetsOf(5, [[0], [0, 1], [0, 1, 2], [1, 2], [2, 3], [2, 3, 4], [3, 4], [4]])
    const left = wholly(reduced(sets))
    expect(left.sets.joints).toBe(0)
    expect(left.forced).toHaveLength(2)
  })

  it('proves a bound from any prices whatever', () => {
    fc.assert(
      fc.property(
        smallSets(9).filter(attainable),
        fc.array(fc.double({ min: -1, max: 3, noNaN: true }), { minLength: 9, maxLength: 9 }),
        (sets, prices) => {
          expect(provedBound(sets, prices.slice(0, sets.joints))).toBeLessThanOrEqual(leastByTrying(sets))
        },
      ),
      { numRuns: 300 },
    )
  })

  it('relaxes, programmes, exchanges and searches to a bound below and a choice at or above the least', () => {
    fc.assert(
      fc.property(smallSets(10).filter(attainable), (sets) => {
        const least = leastByTrying(sets)
        const all = Array.from({ length: sets.candidates }, (_, c) => c)
        const relaxation = wholly(relaxed(sets, all))
        expect(relaxation.bound).toBeLessThanOrEqual(least)
        const fromNothing = { price: new Float64Array(sets.joints), value: 99, bound: 0 }
        const programme = wholly(linearProgramme(sets, fromNothing, all))
        expect(programme.bound).toBeLessThanOrEqual(least)
        const swapped = wholly(exchanged(sets, all, 0))
        expect(meetsAll(sets, swapped)).toBe(true)
        const found = wholly(searched(sets, all, programme.price, 0, fullEffort()))
        expect(found).toMatchObject({ isLeast: true })
        expect(found.chosen.length).toBe(least)
        expect(meetsAll(sets, found.chosen)).toBe(true)
      }),
      { numRuns: 200 },
    )
  })

  it('gets from the linear programme no less than from the ascent', () => {
    for (const seed of [1, 2, 3, 4]) {
      const sets = randomSets(seed, 60, 150, 6)
      const greedy = greedyCover(sets, sets.demand.slice())
      const relaxation = wholly(relaxed(sets, greedy))
      const programme = wholly(
        linearProgramme(sets, { price: new Float64Array(60), value: 99, bound: 0 }, greedy),
      )
      expect(programme.bound).toBeGreaterThanOrEqual(relaxation.bound)
    }
  })
})
