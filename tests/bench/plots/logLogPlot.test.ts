import { describe, expect, it } from 'vitest'
import { decades, logLogPlot, spread } from './logLogPlot.ts'

describe('whole decades', () => {
  it('reach around all values and never collapse', () => {
    expect(decades([12, 3400])).toEqual([10, 10_000])
    expect(decades([0.001, 10])).toEqual([0.001, 10])
    expect(decades([100])).toEqual([100, 1000])
  })
})

describe('names beside each other', () => {
  it('stay where there is room', () => {
    expect(spread([10, 90, 50], 20)).toEqual([10, 90, 50])
  })

  it('are pushed apart around where they would be, in the same order', () => {
    expect(spread([50, 50, 200], 20)).toEqual([40, 60, 200])
    const placed = spread([50, 48, 66, 70], 20)
    const inOrder = [...placed].sort((a, b) => a - b)
    expect([placed[1], placed[0], placed[2], placed[3]]).toEqual(inOrder)
    inOrder.slice(1).forEach((height, k) => expect(height - inOrder[k]).toBeGreaterThan(20 - 1e-9))
  })
})

describe('a plot', () => {
  it('puts a power law on a straight line and says names as text', () => {
    const points = [1, 10, 100, 1000].map((x) => [x, x ** 2] as const)
    const svg = logLogPlot({ title: 'T', xTitle: 'x', yTitle: 'y', yTick: String }, [
      { name: 'a < b', colour: '#123456', points },
    ])
    const dots = [...svg.matchAll(/<circle cx="([\d.]+)" cy="([\d.]+)"/g)].map(([, x, y]) => [+x, +y])
    expect(dots).toHaveLength(4)
    const slopes = dots.slice(1).map(([x, y], k) => (y - dots[k][1]) / (x - dots[k][0]))
    for (const slope of slopes) expect(slope).toBeCloseTo(slopes[0], 2)
    expect(slopes[0]).toBeLessThan(0)
    expect(svg).toContain('>a &lt; b</text>')
  })
})
