import { describe, expect, test } from 'vitest'
import { discoveryRates } from '../../src/base/falseDiscovery.ts'
import { fencesOf, median, medianDeviation } from '../../src/base/orderStatistics.ts'
import { esdOutliers, grubbs, grubbsLimit } from '../../src/base/outliers.ts'
import { modifiedZ } from '../../src/base/smallGroups.ts'
import { studentQuantile, studentTail } from '../../src/base/studentT.ts'

/** Rosner 1983, Technometrics 25, 165: 54 points; NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.3. */
const rosner =
  `-0.25 0.68 0.94 1.15 1.20 1.26 1.26 1.34 1.38 1.43 1.49 1.49 1.55 1.56 1.58 1.65 1.69 1.70 1.76 1.77
  1.81 1.91 1.94 1.96 1.99 2.06 2.09 2.10 2.14 2.15 2.23 2.24 2.26 2.35 2.37 2.40 2.47 2.54 2.62 2.64 2.90 2.92 2.92
  2.93 3.21 3.26 3.30 3.59 3.68 4.30 4.64 5.34 5.42 6.01`
    .split(/\s+/)
    .map(Number)

/** Tietjen and Moore 1972, uranium isotopes by mass spectrometer; e-Handbook 1.3.5.17.1. */
const uranium = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57]

describe('generalised ESD on the 54 points of Rosner', () => {
  const { steps, outliers } = esdOutliers(rosner, 10, 0.05)

  test('statistics and limits as the handbook prints them', () => {
    const r = [3.118, 2.942, 3.179, 2.81, 2.815, 2.848, 2.279, 2.31, 2.101, 2.067]
    const limit = [3.158, 3.151, 3.143, 3.136, 3.128, 3.12, 3.111, 3.103, 3.094, 3.085]
    steps.forEach((step, k) => {
      // the handbook cuts off after three decimals
      expect(Math.abs(step.r - r[k]), `R ${k + 1}`).toBeLessThan(1e-3)
      expect(Math.abs(step.limit - limit[k]), `λ ${k + 1}`).toBeLessThan(1e-3)
    })
  })

  test('three outliers, though the first two do not exceed their limits', () => {
    expect(outliers).toEqual([6.01, 5.42, 5.34])
    expect(steps[0].r).toBeLessThan(steps[0].limit)
  })

  test('the modified z-score finds the same three', () => {
    expect(median(rosner)).toBeCloseTo(2.095, 12)
    expect(medianDeviation(rosner)).toBeCloseTo(0.545, 12)
    const z = modifiedZ(rosner)
    expect(rosner.filter((_, k) => Math.abs(z[k]) > 3.5)).toEqual([5.34, 5.42, 6.01])
    expect(z[53]).toBeCloseTo(4.8453, 3)
    expect(z[50]).toBeCloseTo(3.1497, 3)
  })

  test('and so do the inner fences', () => {
    const { lowerQuartile, upperQuartile, inner } = fencesOf(rosner, 'nPlusOne')
    expect([lowerQuartile, upperQuartile]).toEqual([1.5575, 2.905])
    expect(inner[0]).toBeCloseTo(-0.46375, 10)
    expect(inner[1]).toBeCloseTo(4.92625, 10)
    expect(rosner.filter((x) => x < inner[0] || x > inner[1])).toEqual([5.34, 5.42, 6.01])
  })
})

describe('the uranium data', () => {
  test('Grubbs', () => {
    const { g, value } = grubbs(uranium)
    expect(value).toBe(245.57)
    expect(g).toBeCloseTo(2.4687, 3)
    // the handbook prints 2.032 (from memory)
    expect(grubbsLimit(8, 0.05, 1)).toBeCloseTo(2.032, 3)
    expect(grubbsLimit(8, 0.05, 2)).toBeCloseTo(2.126645, 5)
  })

  test('modified z and fences', () => {
    expect(modifiedZ(uranium)[7]).toBeCloseTo(29.963, 2)
    const { lowerQuartile, upperQuartile, inner } = fencesOf(uranium, 'linear')
    expect(lowerQuartile).toBeCloseTo(200.025, 10)
    expect(upperQuartile).toBeCloseTo(202.0075, 10)
    expect(inner[1]).toBeCloseTo(204.981, 2)
  })

  test('two-sided limits of Grubbs at 5 %', () => {
    const table = [
      [3, 1.1543],
      [5, 1.715],
      [10, 2.29],
      [20, 2.7082],
      [30, 2.9085],
    ] as const
    for (const [count, limit] of table) expect(grubbsLimit(count, 0.05, 2)).toBeCloseTo(limit, 3)
  })
})

test('fences from quartiles: the example of the handbook, 7.1.6 (values from memory)', () => {
  // quartiles 429.75 and 742.25 put the fences at −39, 1211 and −507.75, 1679.75
  const { inner, outer } = fencesOf([429.75, 429.75, 742.25, 742.25], 'linear')
  expect(inner).toEqual([-39, 1211])
  expect(outer).toEqual([-507.75, 1679.75])
})

test('Benjamini and Hochberg 1995, the example of 15 hypotheses (values from memory)', () => {
  const chances = [
    0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528,
    0.759, 1,
  ]
  const rates = discoveryRates(chances)
  expect([...rates].filter((q) => q <= 0.05)).toHaveLength(4)
  // Bonferroni rejects three
  expect(chances.filter((p) => p <= 0.05 / 15)).toHaveLength(3)
  expect(rates[3]).toBeCloseTo((0.0095 * 15) / 4, 12)
  // the order in which they come changes nothing
  const turned = discoveryRates(chances.toReversed())
  expect([...turned].reverse()).toEqual([...rates])
})

test('Student t against printed tables (Fisher and Yates)', () => {
  expect(studentQuantile(0.025, 1)).toBeCloseTo(12.706, 3)
  expect(studentQuantile(0.025, 10)).toBeCloseTo(2.228, 3)
  expect(studentQuantile(0.005, 30)).toBeCloseTo(2.75, 3)
  // one degree of freedom is Cauchy: ½ − atan(t)/π
  for (const t of [0.2, 1, 5, 40]) expect(studentTail(t, 1)).toBeCloseTo(0.5 - Math.atan(t) / Math.PI, 12)
  // two: ½ (1 − t/√(2 + t²))
  for (const t of [0.2, 1, 5, 40])
    expect(studentTail(t, 2)).toBeCloseTo(0.5 * (1 - t / Math.hypot(t, Math.SQRT2)), 12)
})
