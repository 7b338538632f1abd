import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  arcBetween,
  besideCurve,
  distanceToCurve,
  pieceOf,
  pointOn,
  spanIn,
  type Curve,
} from '../../src/canvas/overlayCurves.ts'

const seed = 20260611
const number = fc.double({ min: -3000, max: 3000, noNaN: true })
const point = fc.record({ x: number, y: number })
const share = fc.double({ min: 0, max: 1, noNaN: true })
const curveOf = (curve: Curve, t: number) => pointOn(curve, t)
const apart = (a: { x: number; y: number }, b: { x: number; y: number }) => Math.hypot(a.x - b.x, a.y - b.y)

describe('the arc of a reading', () => {
  it('goes from end to end and bends upwards on the screen, either way round', () => {
    const there = arcBetween({ x: 0, y: 100 }, { x: 200, y: 100 })
    const back = arcBetween({ x: 200, y: 100 }, { x: 0, y: 100 })
    expect(pointOn(there, 0)).toEqual({ x: 0, y: 100 })
    expect(pointOn(there, 1)).toEqual({ x: 200, y: 100 })
    expect(pointOn(there, 0.5).y).toBeCloseTo(82)
    expect(pointOn(back, 0.5)).toEqual(pointOn(there, 0.5))
  })

  it('keeps readings in one line apart, and readings of one pair in lanes', () => {
    const near = arcBetween({ x: 0, y: 0 }, { x: 150, y: 0 })
    const far = arcBetween({ x: 0, y: 0 }, { x: 300, y: 0 })
    expect(pointOn(far, 0.25).y).toBeLessThan(pointOn(near, 0.5).y - 5)
    const [first, second] = [0, 1].map(
      (lane) => pointOn(arcBetween({ x: 0, y: 0 }, { x: 300, y: 0 }, lane), 0.5).y,
    )
    expect(first - second).toBeCloseTo(14)
  })

  it('of no length is a point', () => {
    expect(arcBetween({ x: 5, y: 6 }, { x: 5, y: 6 })).toEqual({ x0: 5, y0: 6, cx: 5, cy: 6, x1: 5, y1: 6 })
  })
})

describe('a piece of a curve', () => {
  it('runs along the curve', () => {
    fc.assert(
      fc.property(point, point, share, share, share, (from, to, a, b, t) => {
        const curve = arcBetween(from, to)
        const [t0, t1] = [Math.min(a, b), Math.max(a, b)]
        const onPiece = curveOf(pieceOf(curve, t0, t1), t)
        expect(apart(onPiece, curveOf(curve, t0 + t * (t1 - t0)))).toBeLessThan(1e-6)
      }),
      { seed },
    )
  })

  it('that is seen in a box holds every point of the curve in the box', () => {
    const box = { left: 0, top: 0, right: 800, bottom: 600 }
    fc.assert(
      fc.property(point, point, share, (from, to, t) => {
        const curve = arcBetween(from, to)
        const { x, y } = pointOn(curve, t)
        if (x < 0 || x > 800 || y < 0 || y > 600) return
        const span = spanIn(curve, box)
        if (apart(from, to) < 1e-9) return
        expect(span).not.toBeNull()
        expect(t).toBeGreaterThan(span![0] - 1e-9)
        expect(t).toBeLessThan(span![1] + 1e-9)
      }),
      { seed, numRuns: 2000 },
    )
  })

  it('is none where the curve passes by', () => {
    const box = { left: 0, top: 0, right: 100, bottom: 100 }
    expect(spanIn(arcBetween({ x: -200, y: 150 }, { x: -20, y: 300 }), box)).toBeNull()
    expect(spanIn(arcBetween({ x: 150, y: -50 }, { x: 150, y: 300 }), box)).toBeNull()
  })
})

it('the curve beside another keeps its distance', () => {
  const curve = arcBetween({ x: 0, y: 0 }, { x: 400, y: 120 })
  for (const t of [0, 0.3, 0.5, 0.8, 1]) {
    expect(distanceToCurve(curve, pointOn(besideCurve(curve, 3), t), 400)).toBeCloseTo(3, 0)
  }
})

it('the distance to a curve is measured to its nearest place', () => {
  const straight: Curve = { x0: 0, y0: 0, cx: 50, cy: 0, x1: 100, y1: 0 }
  expect(distanceToCurve(straight, { x: 37, y: 8 })).toBeCloseTo(8)
  expect(distanceToCurve(straight, { x: 103, y: 4 })).toBeCloseTo(5)
})
