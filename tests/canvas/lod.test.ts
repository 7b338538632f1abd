import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { markStepM } from '../../src/canvas/drawGround.ts'
import { conductorWidthPx } from '../../src/canvas/drawItems.ts'
import { currentWidthPx, suspectSizePx } from '../../src/canvas/drawMarks.ts'
import { frameStrength, isAtLeast, levelOf, levels } from '../../src/canvas/lod.ts'

const zoom = fc.double({ min: 0.01, max: 1000, noNaN: true })
const side = fc.double({ min: 0.3, max: 3, noNaN: true })

describe('levels of detail', () => {
  it('only add what is drawn as one comes nearer', () => {
    fc.assert(
      fc.property(zoom, zoom, side, (one, other, shortSideM) => {
        const far = levelOf(Math.min(one, other), { shortSideM })
        const near = levelOf(Math.max(one, other), { shortSideM })
        expect(isAtLeast(near, far)).toBe(true)
      }),
      { seed: 8 },
    )
  })

  it('begin at modules of 3, 7 and 16 pixels', () => {
    const at = (sidePx: number) => levelOf(sidePx / 1.25, { shortSideM: 1.25 })
    expect([2.9, 3, 6.9, 7, 15.9, 16].map(at)).toEqual([
      'tables',
      'frames',
      'frames',
      'members',
      'members',
      'joints',
    ])
    expect([...levels]).toEqual(['tables', 'frames', 'members', 'joints'])
  })

  it('let modules come forward steadily', () => {
    const strengths = [1, 3, 4, 5, 6, 7, 20].map((k) => frameStrength(k, { shortSideM: 1 }))
    expect(strengths).toEqual([0, 0, 0.25, 0.5, 0.75, 1, 1])
  })
})

describe('sizes', () => {
  const share = fc.double({ min: 0, max: 1, noNaN: true })

  it('of suspects are 3 px or more and grow with the probability', () => {
    fc.assert(
      fc.property(share, share, (one, other) => {
        const [low, high] = [suspectSizePx(Math.min(one, other)), suspectSizePx(Math.max(one, other))]
        expect(low).toBeGreaterThanOrEqual(3)
        expect(high).toBeGreaterThanOrEqual(low)
      }),
      { seed: 9 },
    )
    expect(suspectSizePx(1)).toBeGreaterThan(2 * suspectSizePx(0))
  })

  it('of currents grow with the square root, whichever way it flows', () => {
    expect(currentWidthPx(0.25) - currentWidthPx(0)).toBeCloseTo(
      (currentWidthPx(1) - currentWidthPx(0)) / 2,
      12,
    )
    expect(currentWidthPx(-0.3)).toBe(currentWidthPx(0.3))
  })

  it('of conductors never fall below what can be seen', () => {
    expect(conductorWidthPx(0.1)).toBe(1.5)
    expect(conductorWidthPx(60)).toBeCloseTo(2.4, 12)
    expect(conductorWidthPx(1000)).toBe(4)
  })

  it('of ground marks are round distances at least 90 px apart', () => {
    fc.assert(
      fc.property(zoom, (pxPerM) => {
        const stepM = markStepM(pxPerM)
        const digits = Number((stepM / 10 ** Math.floor(Math.log10(stepM) + 1e-9)).toPrecision(6))
        expect([1, 2, 5]).toContain(digits)
        expect(stepM * pxPerM).toBeGreaterThanOrEqual(90 * (1 - 1e-9))
        expect(stepM * pxPerM).toBeLessThanOrEqual(225 * (1 + 1e-9))
      }),
      { seed: 10 },
    )
  })
})
