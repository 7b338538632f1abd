import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'

describe('randomStream', () => {
  it('repeats itself for the same seed and differs for another', () => {
    const a = randomStream(7)
    const b = randomStream(7)
    const c = randomStream(8)
    const first = Array.from({ length: 20 }, () => a.uniform())
    expect(Array.from({ length: 20 }, () => b.uniform())).toEqual(first)
    expect(Array.from({ length: 20 }, () => c.uniform())).not.toEqual(first)
  })

  it('has the moments of the uniform and of the standard normal', () => {
    const stream = randomStream(1)
    const n = 100_000
    let u = 0
    let z = 0
    let z2 = 0
    let z4 = 0
    for (let i = 0; i < n; i++) {
      u += stream.uniform()
      const x = stream.normal()
      z += x
      z2 += x * x
      z4 += x ** 4
    }
    // five standard errors each
    expect(Math.abs(u / n - 0.5)).toBeLessThan(5 * Math.sqrt(1 / 12 / n))
    expect(Math.abs(z / n)).toBeLessThan(5 / Math.sqrt(n))
    expect(Math.abs(z2 / n - 1)).toBeLessThan(5 * Math.sqrt(2 / n))
    expect(Math.abs(z4 / n - 3)).toBeLessThan(5 * Math.sqrt(96 / n))
  })

  it('draws every integer below the bound equally often', () => {
    const stream = randomStream(3)
    const counts = new Array<number>(6).fill(0)
    for (let i = 0; i < 60_000; i++) counts[stream.integer(6)]++
    for (const count of counts) expect(Math.abs(count - 10_000)).toBeLessThan(500)
  })
})
