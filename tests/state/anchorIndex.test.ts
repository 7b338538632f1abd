import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { AnchorIndex } from '../../src/state/anchorIndex.ts'
import { gridFor } from '../../src/state/making.ts'

describe('anchors near a place', () => {
  it('are those that a look at every one of them finds', () => {
    const random = randomStream(5)
    const between = (least: number, most: number) => least + (most - least) * random.uniform()
    const points = Array.from({ length: 300 }, () => ({ x: between(-50, 50), y: between(-50, 50) }))
    const one = { sort: 'row', id: 1 } as const
    const other = { sort: 'row', id: 2 } as const
    const index = new AnchorIndex([
      { item: one, pointsM: points.slice(0, 100) },
      { item: other, pointsM: points.slice(100) },
    ])
    for (let trial = 0; trial < 50; trial++) {
      const at = { x: between(-60, 60), y: between(-60, 60) }
      const withinM = between(0, 20)
      const near = points.filter(({ x, y }) => Math.hypot(x - at.x, y - at.y) <= withinM)
      expect(new Set(index.near(at, withinM))).toEqual(new Set(near))
      const ofOther = near.filter((point) => points.indexOf(point) >= 100)
      expect(new Set(index.near(at, withinM, [one]))).toEqual(new Set(ofOther))
    }
  })

  it('are none where nothing is drawn, and of very many only some', () => {
    expect(new AnchorIndex([]).near({ x: 0, y: 0 }, 1000)).toEqual([])
    const heap = Array.from({ length: 2000 }, (_, k) => ({ x: k / 1000, y: 0 }))
    const near = new AnchorIndex([{ item: { sort: 'aisle', id: 1 }, pointsM: heap }]).near({ x: 1, y: 0 }, 5)
    expect(near.length).toBe(400)
    expect(Math.max(...near.map(({ x }) => Math.abs(x - 1)))).toBeCloseTo(0.2, 9)
  })
})

describe('the grid', () => {
  it('is a round number of metres or feet, its lines at least 6 pixels apart', () => {
    expect(gridFor(8, 'metric')).toBe(1)
    expect(gridFor(100, 'metric')).toBe(0.1)
    expect(gridFor(0.5, 'metric')).toBe(20)
    expect(gridFor(8, 'us') / 0.3048).toBeCloseTo(5, 12)
    for (let k = 0.2; k < 400; k *= 1.3) expect(gridFor(k, 'metric') * k).toBeGreaterThanOrEqual(6)
  })

  it('ends at the widest step however far the map is', () => {
    expect(gridFor(0.001, 'metric')).toBe(100)
  })
})
