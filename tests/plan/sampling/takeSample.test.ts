import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { present } from '../../../src/base/assert.ts'
import { randomStream } from '../../../src/base/random.ts'
import {
  badOf,
  clusteredAcceptance,
  wholeTablesAcceptance,
} from '../../../src/plan/sampling/clusterSample.ts'
import { drawByLot } from '../../../src/plan/sampling/drawByLot.ts'
import { escalate } from '../../../src/plan/sampling/escalation.ts'
import { hypergeometricAtMost } from '../../../src/plan/sampling/hypergeometric.ts'
import type { LotItem } from '../../../src/plan/sampling/lot.ts'
import {
  acceptedShare,
  operatingCurve,
  refusedShare,
} from '../../../src/plan/sampling/operatingCharacteristic.ts'
import { smallestSample } from '../../../src/plan/sampling/sampleSize.ts'
import { takeSample } from '../../../src/plan/sampling/takeSample.ts'

/** Rows of four tables with so many items each. */
const lotOf = (tables: number, each: number): LotItem[] =>
  Array.from({ length: tables * each }, (_, k) => {
    const table = Math.floor(k / each)
    const row = `R${Math.floor(table / 4) + 1}`
    return { from: `a${k}`, to: `b${k}`, joint: null, table: `${row}/T${(table % 4) + 1}`, row }
  })
const demand = { mostBadShare: 0.05, confidence: 0.95, failuresAllowed: 0 }

describe('size', () => {
  it('a small lot needs fewer than an endless one: 59 of endless, 45 of 100, 19 of 20', () => {
    // 5 of 100 bad: C(95, n)/C(100, n) ≤ 0.05 first at n = 45; 1 of 20 bad: 1 − n/20 ≤ 0.05 first at n = 19
    expect([1e8, 100, 20].map((items) => smallestSample(items, demand))).toEqual([59, 45, 19])
  })

  it('says that it cannot be shown where the lot has no more bad ones than may fail', () => {
    expect(smallestSample(20, { ...demand, failuresAllowed: 1 })).toBeNull()
    expect(takeSample(lotOf(5, 4), { ...demand, failuresAllowed: 1 }, null, 1)).toBeNull()
  })

  it('is enough, and one less is not', () => {
    const anyDemand = fc.record({
      items: fc.integer({ min: 1, max: 500 }),
      mostBadShare: fc.double({ min: 0.002, max: 0.5, noNaN: true }),
      confidence: fc.double({ min: 0.5, max: 0.999, noNaN: true }),
      failuresAllowed: fc.nat(4),
    })
    fc.assert(
      fc.property(anyDemand, ({ items, ...asked }) => {
        const size = smallestSample(items, asked)
        const lot = lotOf(items, 1)
        if (size === null) {
          expect(badOf(asked.mostBadShare, items)).toBeLessThanOrEqual(asked.failuresAllowed)
          return
        }
        const sample = present(takeSample(lot, asked, null, 3), 'a sample')
        expect(sample.drawn.length).toBe(size)
        const bad = badOf(asked.mostBadShare, items)
        const left = (drawn: number) => hypergeometricAtMost(asked.failuresAllowed, { items, bad, drawn })
        expect(sample.acceptance(asked.failuresAllowed)(asked.mostBadShare)).toBe(left(size))
        expect(left(size)).toBeLessThanOrEqual((1 - asked.confidence) * (1 + 1e-9))
        if (size > 1) expect(left(size - 1)).toBeGreaterThan(1 - asked.confidence)
      }),
      { seed: 8 },
    )
  })
})

describe('by the table', () => {
  const lot = lotOf(80, 10)

  it('draws whole tables by lot and so many of each, the same for the same seed', () => {
    const sample = present(takeSample(lot, demand, { perTable: 3, correlation: 0.2 }, 7), 'a sample')
    const ofTable = new Map<string, number>()
    for (const k of sample.drawn) ofTable.set(lot[k].table, (ofTable.get(lot[k].table) ?? 0) + 1)
    expect(ofTable.size).toBe(sample.tables)
    expect([...ofTable.values()].every((count) => count === 3)).toBe(true)
    expect(takeSample(lot, demand, { perTable: 3, correlation: 0.2 }, 7)?.drawn).toEqual(sample.drawn)
    expect(takeSample(lot, demand, { perTable: 3, correlation: 0.2 }, 8)?.drawn).not.toEqual(sample.drawn)
  })

  it('needs the more the more alike two of a table are; without likeness as many as one by one', () => {
    const sizes = [0, 0.1, 0.4, 1].map(
      (correlation) => takeSample(lot, demand, { perTable: 4, correlation }, 1)!.drawn.length,
    )
    expect(sizes).toEqual(sizes.toSorted((a, b) => a - b))
    expect(sizes[3]).toBeGreaterThan(2 * sizes[0])
    const single = smallestSample(lot.length, demand)!
    expect(sizes[0] - single).toBeGreaterThanOrEqual(0)
    expect(sizes[0] - single).toBeLessThan(4)
  })

  it('takes the whole lot where not even all tables do', () => {
    const sample = present(takeSample(lotOf(6, 10), demand, { perTable: 1, correlation: 0.5 }, 1), 'a sample')
    expect(sample.isWhole).toBe(true)
    expect(sample.drawn.length).toBe(60)
    expect(sample.acceptance(0)(0.05)).toBe(0)
  })

  /* Lots are made bad by tables and sampled over and over: the chance that is stated is the one that comes out. */
  it('states the chance of acceptance that trials give, for scattered and for whole bad tables', () => {
    const random = randomStream(20)
    const sizes = Array.from({ length: 30 }, () => 6)
    const drawnSizes = Array.from({ length: 8 }, () => 3)
    const trials = 4000
    const passes = (badItems: ReadonlySet<number>) => {
      const tables = drawByLot(30, 8, random)
      return !tables.some((t) => drawByLot(6, 3, random).some((k) => badItems.has(6 * t + k)))
    }
    const share = 15 / 180
    const allOf = (t: number) => [0, 1, 2, 3, 4, 5].map((i) => 6 * t + i)
    let scattered = 0
    let whole = 0
    for (let k = 0; k < trials; k++) {
      if (passes(new Set(drawByLot(180, 15, random)))) scattered++
      // two tables wholly, and half of a third one
      const [a, b, c] = drawByLot(30, 3, random)
      if (passes(new Set([...allOf(a), ...allOf(b), ...allOf(c).slice(0, 3)]))) whole++
    }
    const sample = { lotSizes: sizes, drawnSizes, correlation: 0 }
    const near = (found: number, stated: number) =>
      Math.abs(found / trials - stated) < 4 * Math.sqrt((stated * (1 - stated)) / trials)
    expect(near(scattered, clusteredAcceptance(sample, 0, share))).toBe(true)
    expect(near(whole, wholeTablesAcceptance(sample, 0, share))).toBe(true)
    expect(whole).toBeGreaterThan(2 * scattered)
  })

  it('with some likeness is not more sure than trials with shares drawn per table', () => {
    // shares of tables are 0 or 1/2: mean 0.05, correlation 0.05 · 0.45 / (0.05 · 0.95)
    const correlation = 0.45 / 0.95
    const random = randomStream(21)
    const sample = {
      lotSizes: Array(200).fill(6) as number[],
      drawnSizes: Array(20).fill(2) as number[],
      correlation,
    }
    const trials = 20_000
    let passed = 0
    for (let k = 0; k < trials; k++) {
      let isSound = true
      for (let t = 0; t < 20; t++) {
        const share = random.uniform() < 0.1 ? 0.5 : 0
        for (let i = 0; i < 2; i++) if (random.uniform() < share) isSound = false
      }
      if (isSound) passed++
    }
    // with two items a table only mean and correlation count, so that any distribution of shares gives the same
    const stated = clusteredAcceptance(sample, 0, 0.05)
    expect(Math.abs(passed / trials - stated)).toBeLessThan(4 * Math.sqrt((stated * (1 - stated)) / trials))
  })
})

describe('operating characteristic', () => {
  const sample = present(takeSample(lotOf(100, 4), { ...demand, failuresAllowed: 1 }, null, 1), 'a sample')
  const acceptance = sample.acceptance(1)

  it('falls from 1 to nothing', () => {
    const curve = operatingCurve(acceptance, 400)
    expect(curve[0]).toEqual({ share: 0, accepted: 1 })
    expect(curve.every(({ accepted }, k) => k === 0 || accepted <= curve[k - 1].accepted)).toBe(true)
    expect(curve.at(-1)!.accepted).toBeLessThan(0.01)
    expect(curve.length).toBeLessThanOrEqual(42)
  })

  it('reads off what is accepted as a rule and what hardly ever', () => {
    const accepted = acceptedShare(acceptance, 400, 0.95)
    expect(acceptance(accepted)).toBeGreaterThanOrEqual(0.95)
    expect(acceptance(accepted + 1 / 400)).toBeLessThan(0.95)
    const refused = present(refusedShare(acceptance, 400, 0.1), 'a share')
    expect(acceptance(refused)).toBeLessThanOrEqual(0.1)
    expect(acceptance(refused - 1 / 400)).toBeGreaterThan(0.1)
    expect(refusedShare(acceptance, 400, 0.05)! <= 0.05).toBe(true)
    expect(refusedShare(() => 1, 400, 0.05)).toBeNull()
  })
})

describe('escalation', () => {
  const lot = lotOf(8, 3)
  const drawn = [0, 4, 13]

  it('nothing follows where nothing fails', () => {
    expect(escalate(lot, drawn, [], 0)).toEqual({ isAccepted: true, tables: [], rows: [], lot: [] })
  })

  it('a failure that may be: the rest of its table', () => {
    expect(escalate(lot, drawn, [4], 1)).toEqual({ isAccepted: true, tables: [3, 5], rows: [], lot: [] })
  })

  it('a second one on that table, found by following up: the rest of the row, the sample still accepted', () => {
    const { isAccepted, tables, rows, lot: rest } = escalate(lot, drawn, [4, 5], 1)
    expect({ isAccepted, tables, rest }).toEqual({ isAccepted: true, tables: [3], rest: [] })
    expect(rows).toEqual([1, 2, 6, 7, 8, 9, 10, 11])
  })

  it('more than may be: all that is left, each place once', () => {
    const { isAccepted, tables, rows, lot: rest } = escalate(lot, drawn, [4], 0)
    expect({ isAccepted, tables, rows }).toEqual({ isAccepted: false, tables: [3, 5], rows: [] })
    expect([...drawn, ...tables, ...rest].toSorted((a, b) => a - b)).toEqual([...lot.keys()])
  })
})
