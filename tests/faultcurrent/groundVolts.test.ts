import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { groundVolts } from '../../src/faultcurrent/groundVolts.ts'
import { surfaceOf } from '../../src/faultcurrent/surfaceVolts.ts'
import { runToEnd } from '../outside/barSite.ts'
import { leaksOf, type Rod } from './rods.ts'

/** ρ/(2πL) ∫ dz/√(r² + z²), by the middle rule over ten thousand pieces. */
function byIntegral([xM, yM, lengthM, leakA]: Rod, x: number, y: number): number {
  const r = Math.hypot(x - xM, y - yM)
  const n = 10_000
  let sum = 0
  for (let k = 0; k < n; k++) sum += 1 / Math.hypot(r, ((k + 0.5) / n) * lengthM)
  return (100 * leakA * sum) / n / (2 * Math.PI)
}

describe('volts of the ground surface', () => {
  const rods: Rod[] = [
    [0, 0, 3, 5],
    [10, 2, 1.5, -2],
    [4, 8, 2, -3],
  ]

  it('are those of point sources along every rod', () => {
    const surface = surfaceOf(leaksOf(rods))
    for (const [x, y] of [
      [1, 1],
      [5, 5],
      [30, -20],
      [9, 2],
    ]) {
      const expected = rods.reduce((sum, rod) => sum + byIntegral(rod, x, y), 0)
      expect(surface(x, y)).toBeCloseTo(expected, 4)
    }
  })

  it('at a rod are no more than the rod has, and near it not much less', () => {
    const leaks = leaksOf([[0, 0, 3, 5]])
    const surface = surfaceOf(leaks)
    expect(surface(0, 0)).toBe(leaks.selfV[0])
    expect(surface(0.1, 0)).toBeGreaterThan(0.6 * leaks.selfV[0])
    expect(surface(0.1, 0)).toBeLessThan(leaks.selfV[0])
  })

  it('of a large field come out the same with far rods lumped', () => {
    const random = randomStream(73)
    const field: Rod[] = []
    for (let x = 0; x < 60; x++) {
      for (let y = 0; y < 30; y++)
        field.push([4 * x, 8 * y, 1 + random.uniform(), random.uniform() - (x > 30 ? 0.9 : 0.1)])
    }
    const leaks = leaksOf(field)
    const surface = surfaceOf(leaks)
    let most = 0
    let worst = 0
    for (let k = 0; k < 40; k++) {
      const [x, y] = [300 * random.uniform() - 30, 300 * random.uniform() - 30]
      let exact = 0
      field.forEach(([xM, yM, lengthM, leakA]) => {
        exact += ((100 * leakA) / (2 * Math.PI * lengthM)) * Math.asinh(lengthM / Math.hypot(x - xM, y - yM))
      })
      most = Math.max(most, Math.abs(exact))
      worst = Math.max(worst, Math.abs(surface(x, y) - exact))
    }
    expect(worst).toBeLessThan(0.003 * most)
  })
})

describe('a grid of the ground', () => {
  it('lies row by row from its corner', () => {
    const leaks = leaksOf([
      [0, 0, 3, 5],
      [10, 2, 3, -2],
    ])
    const grid = { fromM: { x: -5, y: -4 }, stepM: 2, across: 10, high: 5 }
    const answer = runToEnd(groundVolts(leaks, grid))
    const surface = surfaceOf(leaks)
    for (let row = 0; row < 5; row++) {
      for (let column = 0; column < 10; column++)
        expect(answer[row * 10 + column]).toBe(surface(-5 + 2 * column, -4 + 2 * row))
    }
  })

  it('with its leaks spread is even between rods and the same far off', () => {
    const leaks = leaksOf([
      [0, 0, 3, 5],
      [10, 2, 3, -2],
    ])
    const grid = { fromM: { x: -40, y: -4 }, stepM: 4, across: 21, high: 2 }
    const sharp = runToEnd(groundVolts(leaks, grid))
    const even = runToEnd(groundVolts(leaks, { ...grid, blurM: 2 }))
    expect(even[0] / sharp[0]).toBeCloseTo(1, 2)
    // the grid's point on the first rod
    const atRod = 21 + 10
    expect(sharp[atRod]).toBe(surfaceOf(leaks)(0, 0))
    const spread = (leak: number, r: number) =>
      ((100 * leak) / (6 * Math.PI)) * Math.asinh(3 / Math.hypot(r, 2))
    expect(even[atRod]).toBeCloseTo(spread(5, 0) + spread(-2, Math.hypot(10, 2)), 9)
  })

  it('without a leak has no volts', () => {
    const grid = { fromM: { x: 0, y: 0 }, stepM: 1, across: 3, high: 2 }
    const answer = runToEnd(groundVolts(leaksOf([]), grid))
    expect([...answer]).toEqual([0, 0, 0, 0, 0, 0])
  })
})
