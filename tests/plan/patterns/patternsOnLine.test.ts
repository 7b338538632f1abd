import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { layChain } from '../../../src/plan/patterns/chain.ts'
import { layLadder } from '../../../src/plan/patterns/ladder.ts'
import type { LaidPair } from '../../../src/plan/patterns/laidPairs.ts'
import type { Stretch } from '../../../src/plan/patterns/pointOrder.ts'
import { layStar } from '../../../src/plan/patterns/star.ts'

/** Points by number at these metres along a line. */
const awayM = (atM: readonly number[]) => (a: number, b: number) => Math.abs(atM[a] - atM[b])
const inReach = (atM: readonly number[], reachM: number) => (a: number, b: number) =>
  a !== b && awayM(atM)(a, b) <= reachM
const numbers = (count: number) => Array.from({ length: count }, (_, k) => k)
const setUpsOf = (pairs: readonly LaidPair[]) =>
  pairs.map(({ from }) => from).filter((f, k, all) => f !== all[k - 1])
const keyOf = ({ from, to }: LaidPair) => `${Math.min(from, to)}-${Math.max(from, to)}`

/** Sets of points that pairs tie together. */
function tiedSets(count: number, pairs: readonly LaidPair[]): number {
  const above = numbers(count)
  const top = (at: number): number => (above[at] === at ? at : top(above[at]))
  for (const { from, to } of pairs) above[top(from)] = top(to)
  return new Set(numbers(count).map(top)).size
}

/** Ascending places along a line, with what the lead reaches. */
const anyLine = fc.record({
  atM: fc
    .array(fc.double({ min: 0.1, max: 12, noNaN: true }), { minLength: 1, maxLength: 60 })
    .map((gaps) => gaps.map((_, k) => gaps.slice(0, k + 1).reduce((sum, gap) => sum + gap, 0))),
  reachM: fc.double({ min: 1, max: 60, noNaN: true }),
})
/** Stretches of points whose neighbours are all within reach of each other. */
const stretchesOf = (atM: readonly number[], reachM: number) =>
  atM.filter((at, k) => k === 0 || at - atM[k - 1] > reachM).length

describe('star', () => {
  const star = (atM: readonly number[], reachM: number, preferred = -1) =>
    layStar({ points: numbers(atM.length), isPreferred: (p) => p === preferred }, awayM(atM), reachM)

  it('n points within reach of the middle one give n − 1 pairs from one set-up', () => {
    const pairs = star([0, 10, 20, 30, 40], 25)
    expect(pairs.map(({ to }) => to)).toEqual([0, 1, 3, 4])
    expect(setUpsOf(pairs)).toEqual([2])
  })

  it('stands at the earth bar where that reaches as much', () => {
    expect(setUpsOf(star([0, 10, 20, 30, 40], 40, 4))).toEqual([4])
    expect(setUpsOf(star([0, 10, 20, 30, 40], 25, 4))).toEqual([2])
  })

  it('begins anew with two points read from either set-up where the lead gets no further', () => {
    const atM = numbers(12).map((k) => 10 * k)
    const pairs = star(atM, 25)
    expect(setUpsOf(pairs)).toEqual([2, 5, 8, 10])
    const ofSetUp = (at: number) => pairs.filter(({ from }) => from === at).map(({ to }) => to)
    expect(ofSetUp(2)).toEqual([0, 1, 3, 4])
    expect(ofSetUp(5)).toEqual([3, 4, 6, 7])
    expect(ofSetUp(8)).toEqual([6, 7, 9, 10])
    expect(ofSetUp(10)).toEqual([9, 11])
  })

  it('keeps to the lead, leaves no point out, and ties together what neighbours can tie', () => {
    fc.assert(
      fc.property(anyLine, ({ atM, reachM }) => {
        const pairs = star(atM, reachM)
        for (const { from, to } of pairs) expect(inReach(atM, reachM)(from, to)).toBe(true)
        expect(tiedSets(atM.length, pairs)).toBe(stretchesOf(atM, reachM))
      }),
      { seed: 8 },
    )
  })
})

describe('chain and skip-one', () => {
  it('a chain through n points has n − 1 pairs, the first clip on every second point', () => {
    for (const n of [1, 2, 3, 8, 9]) {
      const pairs = layChain(numbers(n), 1, () => true)
      expect(new Set(pairs.map(keyOf))).toEqual(new Set(numbers(n - 1).map((k) => `${k}-${k + 1}`)))
      expect(pairs.length).toBe(n - 1)
      expect(setUpsOf(pairs).length).toBe(Math.floor(n / 2))
    }
  })

  it('skip-one adds n − 2 pairs, from two points of every three', () => {
    for (const n of [2, 3, 9, 10]) {
      const pairs = layChain(numbers(n), 2, () => true)
      expect(new Set(pairs.map(keyOf)).size).toBe(2 * n - 3)
      expect(pairs.length).toBe(2 * n - 3)
      expect(setUpsOf(pairs).every((at) => at % 3 !== 0)).toBe(true)
    }
  })

  it('leaves out what the lead does not span', () => {
    fc.assert(
      fc.property(anyLine, fc.constantFrom(1 as const, 2 as const), ({ atM, reachM }, most) => {
        const pairs = layChain(numbers(atM.length), most, inReach(atM, reachM))
        const wanted = numbers(atM.length).flatMap((a) =>
          [a + 1, a + most]
            .filter((b, k) => b < atM.length && (k === 0 || most === 2) && atM[b] - atM[a] <= reachM)
            .map((b) => `${a}-${b}`),
        )
        expect(pairs.map(keyOf).toSorted()).toEqual([...new Set(wanted)].toSorted())
      }),
      { seed: 8 },
    )
  })
})

describe('ladder', () => {
  const rowOf = (row: number, rungs: number): Stretch => ({
    row,
    rungs: numbers(rungs).map((k) => ({ low: 100 * row + 2 * k, high: 100 * row + 2 * k + 1 })),
  })

  it('n rungs of a row give 3n − 2 pairs from n set-ups, each once', () => {
    for (const n of [1, 2, 5, 8]) {
      const pairs = layLadder([rowOf(1, n)], () => true)
      expect(pairs.length).toBe(3 * n - 2)
      expect(new Set(pairs.map(keyOf)).size).toBe(3 * n - 2)
      expect(setUpsOf(pairs).length).toBe(n)
    }
  })

  it('ties rows along the lower side only, and runs through points with one side', () => {
    const pairs = layLadder(
      [{ row: null, rungs: [{ low: 1, high: null }] }, rowOf(1, 2), rowOf(2, 2)],
      () => true,
    )
    expect(new Set(pairs.map(keyOf))).toEqual(
      new Set([
        '1-100',
        '100-101',
        '100-102',
        '101-103',
        '102-103',
        '102-200',
        '200-201',
        '200-202',
        '201-203',
        '202-203',
      ]),
    )
  })
})
