import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { layOutWholeWalk, type LaidOutWalk, type PartPair } from '../../src/walk/layOut.ts'
import { straightM } from '../../src/walk/reach.ts'
import { partOf, prepare, rowSite } from '../locate/rowSite.ts'

const prepared = prepare(rowSite())
const { index } = prepared.network
const part = (address: string) => partOf(prepared, address)

const anyPart = fc.integer({ min: 0, max: index.partCount - 1 })
const anyPairs: fc.Arbitrary<readonly PartPair[]> = fc
  .array(fc.record({ a: anyPart, b: anyPart }), { maxLength: 40 })
  .map((pairs) => pairs.filter(({ a, b }) => a !== b))

const sum = (numbers: readonly number[]) => numbers.reduce((total, each) => total + each, 0)

describe('a walk', () => {
  it('takes each pair once, from the first clip of its set-up, and its ways and minutes add up', () => {
    fc.assert(
      fc.property(anyPairs, fc.constantFrom(1 as const, 2 as const), (pairs, persons) => {
        const walk = layOutWholeWalk(index, pairs, { persons })
        expect(walk.order.map(({ pair }) => pair).sort((a, b) => a - b)).toEqual([...pairs.keys()])
        for (const { pair, from, to, setUp } of walk.order) {
          expect([from, to].sort((a, b) => a - b)).toEqual(
            [pairs[pair].a, pairs[pair].b].sort((a, b) => a - b),
          )
          expect(walk.setUps[setUp].at).toBe(from)
        }
        const numbers = walk.order.map(({ setUp }) => setUp)
        expect(numbers).toEqual([...numbers].sort((a, b) => a - b))
        expect(new Set(numbers).size).toBe(walk.setUps.length)
        walk.setUps.forEach((setUp, s) => {
          const own = walk.order.filter((each) => each.setUp === s)
          expect(own.length).toBe(setUp.pairs)
          expect(sum(own.map(({ wayM }) => wayM))).toBeCloseTo(setUp.wayM, 9)
          expect(sum(own.map(({ minutes }) => minutes))).toBeCloseTo(setUp.minutes, 9)
        })
        expect(sum(walk.setUps.map(({ wayM }) => wayM))).toBeCloseTo(walk.wayM, 9)
        expect(sum(walk.setUps.map(({ minutes }) => minutes))).toBeCloseTo(walk.minutes, 9)
      }),
      { numRuns: 60 },
    )
  })

  it('is never shorter than its bound', () => {
    fc.assert(
      fc.property(anyPairs, (pairs) => {
        const { wayM, wayBoundM } = layOutWholeWalk(index, pairs, { persons: 1 })
        expect(wayBoundM).toBeLessThanOrEqual(wayM)
        expect(wayM).toBeLessThanOrEqual(1.25 * wayBoundM + 1e-6)
      }),
      { numRuns: 40 },
    )
  })

  it('hangs on the pairs alone, not on which end is named first', () => {
    fc.assert(
      fc.property(anyPairs, (pairs) => {
        const turned = pairs.map(({ a, b }) => ({ a: b, b: a }))
        expect(layOutWholeWalk(index, turned, { persons: 1 }).order.map(({ pair }) => pair)).toEqual(
          layOutWholeWalk(index, pairs, { persons: 1 }).order.map(({ pair }) => pair),
        )
      }),
      { numRuns: 30 },
    )
  })

  it('a star is one set-up, whichever end each pair names first', () => {
    const bar = part('B1')
    const tables = ['R1/T1/L1.1', 'R1/T2/L1.1', 'R1/T3/L1.1'].map(part)
    const { setUps, order, minutes, wayM }: LaidOutWalk = layOutWholeWalk(
      index,
      tables.map((table, k) => (k === 1 ? { a: bar, b: table } : { a: table, b: bar })),
      { persons: 1 },
    )
    expect(setUps).toMatchObject([{ at: bar, pairs: 3, sharesPoint: false }])
    expect(new Set(order.map(({ to }) => to))).toEqual(new Set(tables))
    // one move of the first clip, three readings, a metre a second
    expect(minutes).toBeCloseTo(4 + 3 * 1.5 + wayM / 60, 9)
  })

  it('two persons take fewer minutes on the same ways', () => {
    const pairs = [
      { a: part('B1'), b: part('R1/T1/L1.1') },
      { a: part('R1/T5/L1.1'), b: part('R1/T6/L1.1') },
    ]
    const [one, two] = [1, 2].map((persons) => layOutWholeWalk(index, pairs, { persons: persons as 1 | 2 }))
    expect(two.wayM).toBe(one.wayM)
    expect(two.minutes).toBeCloseTo(2 * (1 + 2.5) + two.wayM / 60, 9)
  })

  it('a chain has every second point for a first clip, and each ties up with the one before', () => {
    const chain = [1, 2, 3, 4, 5, 6].map((table) => part(`R1/T${table}/L1.1`))
    const pairs = chain.slice(1).map((b, k) => ({ a: chain[k], b }))
    const { setUps } = layOutWholeWalk(index, pairs, { persons: 1 })
    expect(setUps.length).toBe(3)
    expect(setUps.map(({ sharesPoint }) => sharesPoint)).toEqual([false, true, true])
  })

  it('says what ties a set-up to the one before: a point of it within reach of the lead, for few minutes', () => {
    const pairs = [
      { a: part('R1/T1/L1.1'), b: part('R1/T2/L1.1') },
      { a: part('R1/T3/L1.1'), b: part('R1/T4/L1.1') },
    ]
    const walk = layOutWholeWalk(index, pairs, { persons: 1, reachM: 47 })
    expect(walk.setUps.map(({ sharesPoint }) => sharesPoint)).toEqual([false, false])
    expect(walk.ties.length).toBe(1)
    const { a, b, setUp, minutes } = walk.ties[0]
    expect(setUp).toBe(1)
    expect(a).toBe(walk.setUps[1].at)
    // the nearer end of the pair before: one table and its gap away, there and back
    expect([pairs[0].a, pairs[0].b, pairs[1].a, pairs[1].b]).toContain(b)
    const tableM = straightM(index, part('R1/T2/L1.1'), part('R1/T3/L1.1'))
    expect(minutes).toBeCloseTo(1.5 + (2 * tableM) / 60, 6)
    const tied = layOutWholeWalk(index, [...pairs, { a, b }], { persons: 1, reachM: 47 })
    expect(tied.setUps.slice(1).every(({ sharesPoint }) => sharesPoint)).toBe(true)
    expect(tied.ties).toEqual([])
  })

  it('ties nothing that no lead reaches, and nothing without a lead', () => {
    const pairs = [
      { a: part('R1/T1/L1.1'), b: part('R1/T2/L1.1') },
      { a: part('R1/T5/L1.1'), b: part('R1/T6/L1.1') },
    ]
    expect(layOutWholeWalk(index, pairs, { persons: 1, reachM: 5 }).ties).toEqual([])
    expect(layOutWholeWalk(index, pairs, { persons: 1 }).ties).toEqual([])
  })

  it('of no pairs is none', () => {
    expect(layOutWholeWalk(index, [], { persons: 1 })).toEqual({
      order: [],
      setUps: [],
      wayM: 0,
      minutes: 0,
      ties: [],
      wayBoundM: 0,
    })
  })
})
