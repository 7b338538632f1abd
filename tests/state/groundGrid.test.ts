import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { doesShow, groundGrid, voltsOnGrid, type SeenPlan } from '../../src/state/groundGrid.ts'

const random = randomStream(91)
function anySeen(): SeenPlan {
  const pxPerM = 0.5 * 1000 ** random.uniform()
  const [minX, minY] = [800 * random.uniform() - 400, 800 * random.uniform() - 400]
  const [widthPx, heightPx] = [300 + 2200 * random.uniform(), 200 + 1200 * random.uniform()]
  return { minX, minY, maxX: minX + widthPx / pxPerM, maxY: minY + heightPx / pxPerM, pxPerM }
}

describe('the grid of the ground', () => {
  it('covers what is seen and more, with points some pixels apart on round metres, and not too many', () => {
    for (let k = 0; k < 200; k++) {
      const seen = anySeen()
      const grid = groundGrid(seen)
      const { fromM, stepM, across, high } = grid
      expect(doesShow(grid, seen)).toBe(true)
      expect(fromM.x).toBeLessThan(seen.minX - 0.19 * (seen.maxX - seen.minX))
      expect(fromM.y + (high - 1) * stepM).toBeGreaterThan(seen.maxY + 0.19 * (seen.maxY - seen.minY))
      expect(across * high).toBeLessThanOrEqual(60_000)
      expect(stepM).toBeGreaterThanOrEqual(0.05)
      const digit = stepM / 10 ** Math.floor(Math.log10(stepM) + 1e-9)
      expect([1, 1.5, 2, 3, 5, 7].some((round) => Math.abs(digit - round) < 1e-6)).toBe(true)
    }
  })

  it('is kept while the view moves a little or comes a little nearer, not for one far off or much nearer', () => {
    for (let k = 0; k < 50; k++) {
      const seen = anySeen()
      const grid = groundGrid(seen)
      const [width, height] = [seen.maxX - seen.minX, seen.maxY - seen.minY]
      const moved = (by: number) => ({ ...seen, minX: seen.minX + by * width, maxX: seen.maxX + by * width })
      expect(doesShow(grid, moved(0.15))).toBe(true)
      expect(doesShow(grid, moved(0.6))).toBe(false)
      const near = {
        minX: seen.minX + 0.45 * width,
        maxX: seen.maxX - 0.45 * width,
        minY: seen.minY + 0.45 * height,
        maxY: seen.maxY - 0.45 * height,
        pxPerM: 10 * seen.pxPerM,
      }
      if (groundGrid(near).stepM < grid.stepM) expect(doesShow(grid, near)).toBe(false)
    }
  })

  it('is even between its points, and has nothing beyond them', () => {
    const grid = { fromM: { x: -4, y: 2 }, stepM: 2, across: 5, high: 4 }
    const volt = Float32Array.from({ length: 20 }, (_, k) => 3 * (k % 5) - 7 * Math.floor(k / 5))
    for (let k = 0; k < 50; k++) {
      const [u, v] = [4 * random.uniform(), 3 * random.uniform()]
      expect(voltsOnGrid(grid, volt, { x: -4 + 2 * u, y: 2 + 2 * v })).toBeCloseTo(3 * u - 7 * v, 4)
    }
    expect(voltsOnGrid(grid, volt, { x: 4, y: 8 })).toBeCloseTo(12 - 21, 4)
    for (const at of [
      { x: -4.01, y: 3 },
      { x: 4.01, y: 3 },
      { x: 0, y: 1.99 },
      { x: 0, y: 8.01 },
    ])
      expect(voltsOnGrid(grid, volt, at)).toBeNull()
  })
})
