import { describe, expect, it } from 'vitest'
import { metalNear } from '../../src/layout/metalNear.ts'
import { frameCode, postCode } from '../../src/layout/partKinds.ts'
import { partKindAt } from '../../src/layout/partIndex.ts'
import { frameOutlineM, partPositionM } from '../../src/layout/positions.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { randomStream } from '../../src/base/random.ts'
import { fieldSite } from '../drill/drillIn.ts'

const site = fieldSite()
const made = indexSite(site.drawing)
if (!made.ok) throw new Error('the site can be indexed')
const index = made.value

/** Looks at every frame and post of the site. */
function byLooking(x: number, y: number, reachM: number): Map<number, number> {
  const found = new Map<number, number>()
  for (let part = 0; part < index.enclosureStart; part++) {
    const kind = partKindAt(index, part)
    let distanceM = Infinity
    if (kind === postCode) {
      const at = partPositionM(index, part)!
      distanceM = Math.hypot(at.x - x, at.y - y)
    } else if (kind === frameCode) {
      const { corner, alongEdge, upEdge } = frameOutlineM(index, part)
      // the nearest of a close net of its points
      for (let i = 0; i <= 40; i++)
        for (let j = 0; j <= 40; j++) {
          const px = corner.x + (i / 40) * alongEdge.x + (j / 40) * upEdge.x
          const py = corner.y + (i / 40) * alongEdge.y + (j / 40) * upEdge.y
          distanceM = Math.min(distanceM, Math.hypot(px - x, py - y))
        }
    }
    if (distanceM <= reachM) found.set(part, distanceM)
  }
  return found
}

describe('metal within reach', () => {
  it('is what a look at every frame and post finds, nearest first', () => {
    const random = randomStream(5)
    let metal = 0
    for (let k = 0; k < 6; k++) {
      const base = partPositionM(index, Math.floor(random.uniform() * index.enclosureStart))!
      const [x, y] = [base.x + 6 * random.uniform() - 3, base.y + 6 * random.uniform() - 3]
      const near = metalNear(index, { x, y }, 2.5).filter(({ part }) => part < index.enclosureStart)
      const looked = byLooking(x, y, 2.5)
      for (const [part, distanceM] of looked)
        expect(near.find((one) => one.part === part)!.distanceM).toBeLessThanOrEqual(distanceM + 1e-9)
      // the net of points misses what is just within reach
      expect(near.filter(({ distanceM }) => distanceM < 2.4).every(({ part }) => looked.has(part))).toBe(true)
      const distances = near.map(({ distanceM }) => distanceM)
      expect(distances).toEqual([...distances].sort((a, b) => a - b))
      metal += near.length
    }
    expect(metal).toBeGreaterThan(10)
  })

  it('has the housings too, and is none far off', () => {
    const { atM, id } = site.drawing.enclosures[0]
    const [nearest] = metalNear(index, atM, 1)
    expect(index.drawing.enclosures[nearest.part - index.enclosureStart].id).toBe(id)
    expect(nearest.distanceM).toBe(0)
    expect(metalNear(index, { x: -5000, y: 9000 }, 2.5)).toEqual([])
  })
})
