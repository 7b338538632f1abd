import { describe, expect, it } from 'vitest'
import { fullCurrentPx, leastFaultShare, type CurrentPieces } from '../../src/canvas/drawMarks.ts'
import { flowDashes, mostDashes } from '../../src/canvas/flowDashes.ts'

const view = { x: 0, y: 100, k: 10, widthPx: 400, heightPx: 200, dpr: 1 }

/** Pieces as `currentPieces` gives them, weakest first. */
function pieces(
  ...lines: readonly [x0: number, y0: number, x1: number, y1: number, share: number][]
): CurrentPieces {
  const rising = [...lines].sort((a, b) => a[4] - b[4])
  return {
    ends: Float64Array.from(rising.flatMap(([x0, y0, x1, y1]) => [x0, y0, x1, y1])),
    perAmpere: Float32Array.from(rising.map((line) => line[4])),
    joints: Int32Array.from(rising.keys()),
  }
}
const east = [1, 2, 30, 2, 1] as const
const dashesOf = (of: CurrentPieces, forwards: number[], seconds: number, least = 0) => {
  const { count, values } = flowDashes(of, Uint8Array.from(forwards), view, seconds, least, fullCurrentPx)
  return Array.from({ length: count }, (_, d) => {
    const [x, y, ux, uy, lengthPx, thickPx] = values.subarray(6 * d, 6 * d + 6)
    return { x, y, ux, uy, lengthPx, thickPx }
  })
}

describe('dashes that move with a current', () => {
  it('lie on the line, point along it, and are evenly apart', () => {
    const dashes = dashesOf(pieces([...east]), [1], 0.1)
    expect(dashes.length).toBeGreaterThan(10)
    for (const { y, ux, uy } of dashes) expect([y, ux, uy]).toEqual([80, 1, 0])
    const gaps = dashes.slice(1).map(({ x }, k) => x - dashes[k].x)
    for (const gap of gaps) expect(gap).toBeCloseTo(gaps[0], 3)
  })

  it('move the way the current flows, and the other way where it flows backwards', () => {
    const at = (forward: number, seconds: number) => dashesOf(pieces([...east]), [forward], seconds)[3].x
    expect(at(1, 0.12)).toBeGreaterThan(at(1, 0.1))
    expect(at(0, 0.12)).toBeLessThan(at(0, 0.1))
    expect(dashesOf(pieces([...east]), [0], 0.1)[0].ux).toBe(-1)
  })

  it('are thicker and faster with more amperes', () => {
    const strong = pieces([...east])
    const weak = pieces([1, 2, 30, 2, 0.1])
    expect(dashesOf(strong, [1], 0)[0].thickPx).toBeGreaterThan(dashesOf(weak, [1], 0)[0].thickPx)
    const moved = (of: CurrentPieces) => dashesOf(of, [1], 0.11)[2].x - dashesOf(of, [1], 0.1)[2].x
    expect(moved(strong)).toBeGreaterThan(moved(weak))
  })

  it('leave out what is too weak for the zoom, and what is out of view', () => {
    const both = pieces([...east], [1, 4, 30, 4, 0.01])
    expect(dashesOf(both, [1, 1], 0).some(({ y }) => y === 60)).toBe(true)
    expect(dashesOf(both, [1, 1], 0, leastFaultShare('frames')).some(({ y }) => y === 60)).toBe(false)
    expect(leastFaultShare('joints')).toBeLessThan(leastFaultShare('tables'))
    expect(dashesOf(pieces([100, 100, 130, 100, 1]), [1], 0)).toEqual([])
  })

  it('are so many at most, the strongest first', () => {
    const many = Array.from({ length: 80 }, (_, k) => [0, k / 8, 40, k / 8, k === 0 ? 1 : 0.5] as const)
    const of = pieces(...many.map((line) => [...line] as [number, number, number, number, number]))
    const dashes = dashesOf(of, Array<number>(80).fill(1), 0)
    expect(dashes.length).toBe(mostDashes)
    expect(dashes[0].y).toBe(100)
  })
})
