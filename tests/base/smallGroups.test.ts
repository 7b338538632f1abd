import { describe, expect, test } from 'vitest'
import { digamma, trigamma, trigammaInverse } from '../../src/base/gammaDerivatives.ts'
import { median, medianDeviation } from '../../src/base/orderStatistics.ts'
import { randomStream } from '../../src/base/random.ts'
import { moderatedScale, ownScale, sharedScale } from '../../src/base/sharedScale.ts'
import {
  eitherCutoff,
  highCutoff,
  madBias,
  madDegrees,
  madToSd,
  meanLnMadSquare,
  modifiedZ,
} from '../../src/base/smallGroups.ts'
import { studentTail } from '../../src/base/studentT.ts'

const draws = 12_000

function groupsOf(count: number, seed: number): Float64Array[] {
  const random = randomStream(seed)
  return Array.from({ length: draws }, () => Float64Array.from({ length: count }, () => random.normal()))
}

/** Four standard errors of a share that is drawn so often. */
const slack = (share: number) => 4 * Math.sqrt((share * (1 - share)) / draws)

describe('the tables of small groups, drawn again', () => {
  test.each([3, 4, 5, 6, 7, 8, 9, 10, 12, 15, 20, 30])('of %i numbers', (count) => {
    const groups = groupsOf(count, 700 + count)
    const mads = groups.map((x) => medianDeviation(x))
    const meanMad = mads.reduce((sum, x) => sum + x, 0) / draws
    expect(madToSd * madBias(count) * meanMad).toBeCloseTo(1, 1.5)
    const lnSquares = mads.map((mad) => 2 * Math.log(mad))
    const meanLn = lnSquares.reduce((sum, x) => sum + x, 0) / draws
    const variance = lnSquares.reduce((sum, x) => sum + (x - meanLn) ** 2, 0) / draws
    expect(Math.abs(meanLn - meanLnMadSquare(count))).toBeLessThan(4 * Math.sqrt(variance / draws))
    expect(trigamma(madDegrees(count) / 2) / variance).toBeCloseTo(1, 0.8)
    const z = groups.map((x) => modifiedZ(x))
    const share = (exceeds: (z: Float64Array) => boolean) => z.filter(exceeds).length / draws
    for (const rate of [0.05, 0.01] as const) {
      const found = share((x) => Math.max(...x) > highCutoff(count, rate))
      expect(Math.abs(found - rate), `upper ${rate}: ${found}`).toBeLessThan(slack(rate))
    }
    const either = share((x) => x.some((v) => Math.abs(v) > eitherCutoff(count)))
    expect(Math.abs(either - 0.01)).toBeLessThan(slack(0.01))
  })

  test.each([40, 80, 200])('beyond the table, %i numbers stay near their rates', (count) => {
    const z = groupsOf(count, 900 + count).map((x) => Math.max(...modifiedZ(x)))
    const share = z.filter((x) => x > highCutoff(count, 0.05)).length / draws
    expect(share).toBeGreaterThan(0.035)
    expect(share).toBeLessThan(0.065)
  })

  test('a fixed 3.5 cries wolf in small groups', () => {
    const share = groupsOf(3, 1).filter((x) => modifiedZ(x).some((v) => Math.abs(v) > 3.5)).length / draws
    expect(share).toBeCloseTo(0.29, 1.7)
  })
})

test('numbers that are all alike make nothing infinitely far', () => {
  expect([...modifiedZ([2, 2, 2, 2, 5], 1)]).toEqual([0, 0, 0, 0, 3 / madToSd])
  expect(ownScale([2, 2, 2, 2], 0.25).variance).toBe(0.25)
})

test('derivatives of ln Γ at places with known values', () => {
  // ψ(1) = −γ, ψ(1/2) = −γ − 2 ln 2, ψ′(1) = π²/6, ψ′(1/2) = π²/2
  const euler = 0.5772156649015329
  expect(digamma(1)).toBeCloseTo(-euler, 10)
  expect(digamma(0.5)).toBeCloseTo(-euler - 2 * Math.LN2, 10)
  expect(trigamma(1)).toBeCloseTo(Math.PI ** 2 / 6, 9)
  expect(trigamma(0.5)).toBeCloseTo(Math.PI ** 2 / 2, 9)
  expect(trigammaInverse(Math.PI ** 2 / 6)).toBeCloseTo(1, 9)
})

describe('a scale that groups share', () => {
  const sd = 0.3
  const groups = (seed: number, count: number, size: number) => {
    const random = randomStream(seed)
    return Array.from({ length: count }, () =>
      Float64Array.from({ length: size }, () => sd * random.normal()),
    )
  }

  test('is found, and a few groups with far values in them do not widen it', () => {
    const drawn = groups(5, 200, 6)
    drawn.slice(0, 10).forEach((x) => x.fill(9, 0, 2))
    const shared = sharedScale(drawn.map((x) => ownScale(x)))
    expect(Math.sqrt(shared.variance) / sd).toBeGreaterThan(0.9)
    expect(Math.sqrt(shared.variance) / sd).toBeLessThan(1.12)
    expect(shared.degrees).toBeGreaterThan(10)
  })

  test('two groups lend nothing', () => {
    const shared = sharedScale(groups(6, 2, 6).map((x) => ownScale(x)))
    expect(shared.degrees).toBe(0)
    const own = ownScale([1, 2, 4, 7])
    expect(moderatedScale(own, shared)).toEqual(own)
  })

  test('the tails of small groups with a borrowed scale are no fatter than told', () => {
    const drawn = groups(7, 4000, 5)
    const owns = drawn.map((x) => ownScale(x))
    const shared = sharedScale(owns)
    let beyond = 0
    drawn.forEach((x, k) => {
      const { variance, degrees } = moderatedScale(owns[k], shared)
      const middle = median(x)
      for (const v of x) if (studentTail((v - middle) / Math.sqrt(variance), degrees) < 0.01) beyond++
    })
    expect(beyond / 20_000).toBeLessThan(0.0115)
    expect(beyond / 20_000).toBeGreaterThan(0.004)
  })
})
