import { describe, expect, it } from 'vitest'
import { normalNodes, normalWeights } from '../../src/base/gaussHermite.ts'
import { logAdd, logSumExp } from '../../src/base/logSum.ts'
import { chiSquareTail, logNormalCdf, logNormalDensity, normalCdf } from '../../src/base/normal.ts'
import { randomStream } from '../../src/base/random.ts'
import { choleskyInPlace, inverseFromCholesky, logDeterminant } from '../../src/base/symmetric.ts'

describe('the normal distribution', () => {
  it('meets tabulated values (Abramowitz & Stegun 1964, table 26.1)', () => {
    expect(normalCdf(0)).toBe(0.5)
    expect(normalCdf(1)).toBeCloseTo(0.841344746068543, 14)
    expect(normalCdf(1.96)).toBeCloseTo(0.9750021048517795, 14)
    expect(normalCdf(3.5)).toBeCloseTo(0.999767370920964, 14)
  })

  it('keeps relative accuracy far down the tail', () => {
    // −ln Q(x), table 26.2 of the same source gives −log10 Q(10) = 23.11805 and Q(50) = 544.96634
    expect(-logNormalCdf(-10) / Math.LN10).toBeCloseTo(23.11805, 4)
    expect(-logNormalCdf(-50) / Math.LN10).toBeCloseTo(544.96634, 4)
    expect(normalCdf(-10)).toBeGreaterThan(0)
  })

  it('joins its two branches without a step and is the integral of its density', () => {
    for (const x of [-3, 3]) expect(normalCdf(x - 1e-9) / normalCdf(x + 1e-9)).toBeCloseTo(1, 7)
    for (const x of [-5, -3.2, -1, 0.3, 2.9, 4]) {
      const h = 1e-4
      const slope = (normalCdf(x + h) - normalCdf(x - h)) / (2 * h)
      expect(slope / Math.exp(logNormalDensity(x, 1))).toBeCloseTo(1, 5)
    }
  })

  it('gives the tail of chi-square near its tabulated percentage points', () => {
    // Abramowitz & Stegun table 26.8: 5 % points 7.81473 (3), 18.3070 (10), 67.5048 (50)
    expect(chiSquareTail(7.81473, 3)).toBeCloseTo(0.05, 2)
    expect(chiSquareTail(18.307, 10)).toBeCloseTo(0.05, 2)
    expect(chiSquareTail(67.5048, 50)).toBeCloseTo(0.05, 3)
  })
})

describe('quadrature over a normal variable', () => {
  it('integrates even powers up to 16 exactly', () => {
    let exact = 1
    for (let power = 0; power <= 16; power += 2) {
      const sum = normalNodes.reduce((s, x, i) => s + normalWeights[i] * x ** power, 0)
      expect(sum / exact).toBeCloseTo(1, 11)
      exact *= power + 1
    }
  })
})

describe('sums of logarithms', () => {
  it('do not overflow and agree with the plain sum', () => {
    expect(logSumExp([1000, 1000])).toBeCloseTo(1000 + Math.LN2, 12)
    expect(logAdd(-1000, -1001)).toBeCloseTo(-1000 + Math.log1p(Math.exp(-1)), 12)
    expect(logSumExp([])).toBe(-Infinity)
    expect(logAdd(-Infinity, 3)).toBe(3)
  })
})

describe('small symmetric matrices', () => {
  it('inverse times matrix is the identity, and the determinant is that of the eigenvalues', () => {
    const random = randomStream(5)
    const n = 9
    const half = Float64Array.from({ length: n * n }, () => random.normal())
    const a = new Float64Array(n * n)
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        for (let k = 0; k < n; k++) a[i * n + j] += half[i * n + k] * half[j * n + k]
      }
    }
    const factor = a.slice()
    expect(choleskyInPlace(factor, n)).toBe(-1)
    const inverse = inverseFromCholesky(factor, n)
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        let sum = 0
        for (let k = 0; k < n; k++) sum += a[i * n + k] * inverse[k * n + j]
        expect(sum).toBeCloseTo(i === j ? 1 : 0, 8)
      }
    }
    const scaled = a.map((x) => 4 * x)
    choleskyInPlace(scaled, n)
    expect(logDeterminant(scaled, n) - logDeterminant(factor, n)).toBeCloseTo(n * Math.log(4), 10)
  })

  it('names the first pivot that is not positive', () => {
    expect(choleskyInPlace(Float64Array.from([1, 1, 1, 1]), 2)).toBe(1)
  })
})
