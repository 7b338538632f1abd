import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { factorNumeric } from '../../src/network/factor.ts'
import { edgesOf, networkOf, randomConnected } from './randomNetworks.ts'
import { runToEnd } from './runToEnd.ts'
import { relativeError, solved } from './solved.ts'

describe('factorNumeric', () => {
  it('multiplies back to the Laplacian', () => {
    for (let seed = 0; seed < 30; seed++) {
      const random = randomStream(seed)
      const n = 2 + random.integer(40)
      const network = randomConnected(random, n, random.integer(60))
      const { pattern, pivotS, share } = solved(network).factor
      const { start, row, order } = pattern
      const back = Array.from({ length: n }, () => new Float64Array(n))
      for (let j = 0; j < n; j++) {
        const column = [
          [order[j], 1],
          ...Array.from(row.subarray(start[j], start[j + 1]), (i) => [order[i], 0]),
        ]
        column.forEach((entry, k) => k > 0 && (entry[1] = -share[start[j] + k - 1]))
        for (const [u, x] of column) for (const [v, y] of column) back[u][v] += pivotS[j] * x * y
      }
      for (const [u, v, g] of edgesOf(network)) {
        back[u][u] -= g
        back[v][v] -= g
        back[u][v] += g
        back[v][u] += g
      }
      const largest = Math.max(...back.map((line) => Math.max(...line.map(Math.abs))))
      expect(largest).toBeLessThan(1e-12)
    }
  })

  it('keeps every share positive and their sum at 1, over eighteen decades of conductance', () => {
    for (let seed = 0; seed < 30; seed++) {
      const { pattern, share, pivotS } = solved(randomConnected(randomStream(seed), 200, 200, 9)).factor
      for (let j = 0; j + 1 < pattern.nodeCount; j++) {
        const column = share.subarray(pattern.start[j], pattern.start[j + 1])
        expect(Math.min(...column)).toBeGreaterThan(0)
        expect(Math.abs(column.reduce((a, b) => a + b) - 1)).toBeLessThan(1e-14)
        expect(pivotS[j]).toBeGreaterThan(0)
      }
      expect(pivotS[pattern.nodeCount - 1]).toBe(0)
    }
  })

  it('is bit-identical when repeated', () => {
    const network = randomConnected(randomStream(5), 300, 300)
    const [a, b] = [solved(network).factor, solved(network).factor]
    expect(a.share).toEqual(b.share)
    expect(a.pivotS).toEqual(b.pivotS)
  })

  it('refuses conductances that are not positive and finite, and a missing one', () => {
    const network = networkOf(3, [
      [0, 1, 1],
      [1, 2, 1],
    ])
    const { pattern } = solved(network)
    for (const bad of [0, -1, NaN, Infinity]) {
      expect(() => runToEnd(factorNumeric(pattern, network.graph, Float64Array.of(1, bad)))).toThrow('edge 1')
    }
    expect(() => runToEnd(factorNumeric(pattern, network.graph, Float64Array.of(1)))).toThrow('every edge')
  })

  it('takes pivots over the whole range: a chain of 1e-9 and 1e9 siemens', () => {
    const network = networkOf(5, [
      [0, 1, 1e-9],
      [1, 2, 1e9],
      [2, 3, 1e-9],
      [3, 4, 1e9],
    ])
    const { factor } = solved(network)
    const product = factor.pivotS.filter((d) => d > 0).reduce((a, b) => a * b)
    // determinant of the grounded Laplacian = sum over spanning trees = 1e-9 · 1e9 · 1e-9 · 1e9
    expect(relativeError(product, 1)).toBeLessThan(1e-14)
  })
})
