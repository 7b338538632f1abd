import { describe, expect, it } from 'vitest'
import { replaceBetween } from './markers.ts'
import { spreadOf } from './median.ts'
import { fitPowerLaw } from './slope.ts'

describe('median and spread', () => {
  it('is the middle value, or halfway between the two in the middle, whatever the order', () => {
    expect(spreadOf([5, 1, 9])).toEqual({ median: 5, least: 1, most: 9, count: 3 })
    expect(spreadOf([4, 100, 1, 2])).toEqual({ median: 3, least: 1, most: 100, count: 4 })
    expect(spreadOf([10, 9]).median).toBe(9.5)
  })

  it('leaves the values as they were and refuses none', () => {
    const values = [3, 1, 2]
    spreadOf(values)
    expect(values).toEqual([3, 1, 2])
    expect(() => spreadOf([])).toThrow('nothing was measured')
  })
})

describe('fit of a power law', () => {
  it('finds the law that points lie on', () => {
    const points = [100, 1000, 30_000].map((x) => [x, 0.02 * x ** 1.3] as const)
    const { exponent, factor } = fitPowerLaw(points)
    expect(exponent).toBeCloseTo(1.3, 12)
    expect(factor).toBeCloseTo(0.02, 12)
  })

  it('is the straight line of least squares in logarithms', () => {
    // ln y = 0, 1, 1 at ln x = 0, 1, 2: slope 1/2, intercept 1/6
    const { exponent, factor } = fitPowerLaw([
      [1, 1],
      [Math.E, Math.E],
      [Math.E ** 2, Math.E],
    ])
    expect(exponent).toBeCloseTo(0.5, 12)
    expect(Math.log(factor)).toBeCloseTo(1 / 6, 12)
  })

  it('needs two sizes', () => {
    expect(() =>
      fitPowerLaw([
        [10, 1],
        [10, 2],
      ]),
    ).toThrow('two sizes')
  })
})

describe('text between marks', () => {
  const page = 'Before\n<!-- a -->\nold\n<!-- /a -->\n<!-- b -->\nkept\n<!-- /b -->\nafter\n'

  it('is replaced, and nothing else is', () => {
    expect(replaceBetween(page, 'a', 'new\ntext\n')).toBe(
      'Before\n<!-- a -->\n\nnew\ntext\n\n<!-- /a -->\n<!-- b -->\nkept\n<!-- /b -->\nafter\n',
    )
  })

  it('comes out the same when it is replaced twice', () => {
    const once = replaceBetween(page, 'b', 'new')
    expect(replaceBetween(once, 'b', 'new')).toBe(once)
  })

  it('needs its place', () => {
    expect(() => replaceBetween(page, 'c', 'new')).toThrow('no place for c')
  })
})
