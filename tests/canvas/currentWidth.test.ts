import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { packed } from '../../src/canvas/colour.ts'
import { currentPieces, currentWidthPx, drawCurrents, widestCurrentPx } from '../../src/canvas/drawMarks.ts'
import { buildGeometry } from '../../src/canvas/geometry.ts'
import { legendOf } from '../../src/canvas/legend.ts'
import { levelOf } from '../../src/canvas/lod.ts'
import { palettes } from '../../src/canvas/palette.ts'
import { clear } from '../../src/canvas/rasteriser.ts'
import { sightOf } from '../../src/canvas/sight.ts'
import { bodySort } from '../../src/layout/jointPlaces.ts'
import { noMarks } from '../../src/state/mapMarks.ts'
import { demoIndex } from './demoIndex.ts'

const geometry = buildGeometry(demoIndex('field'))
const palette = palettes.light

describe('the widest line of current', () => {
  it('covers no more than a fifth of a table but where that could not be seen, and never narrows as one comes nearer', () => {
    const zoom = fc.double({ min: 0.05, max: 300, noNaN: true })
    fc.assert(
      fc.property(zoom, zoom, fc.double({ min: 0.5, max: 8, noNaN: true }), (one, other, tableShortM) => {
        const far = widestCurrentPx(Math.min(one, other), { tableShortM })
        const near = widestCurrentPx(Math.max(one, other), { tableShortM })
        expect(near).toBeGreaterThanOrEqual(far)
        expect(far).toBeGreaterThanOrEqual(2)
        expect(near).toBeLessThanOrEqual(7)
        if (near > 2) expect(near).toBeLessThanOrEqual(0.2 * tableShortM * Math.max(one, other))
      }),
      { seed: 21 },
    )
  })

  it('is full where there is no table to run along', () => {
    expect(widestCurrentPx(0.1, { tableShortM: Infinity })).toBe(7)
  })

  it('still tells much from little, at every zoom', () => {
    for (const k of [0.2, 2.5, 8, 40]) {
      const widestPx = widestCurrentPx(k, geometry)
      expect(currentWidthPx(1, widestPx)).toBe(widestPx)
      expect(currentWidthPx(0.25, widestPx)).toBeCloseTo((1 + widestPx) / 2, 12)
    }
  })
})

describe('the strongest path along a rail', () => {
  /** The widest line and its rim, of all pixels of the first table's height on a column of the map. */
  function coveredShare(k: number, dpr: number): number {
    const { index } = geometry
    const { pattern, jointSort } = geometry.types[index.rows.runs.type[0]]!
    const shares = new Float32Array(index.jointCount)
    const first = index.rows.runs.jointStart[0]
    const rail = pattern.from.findIndex((_, j) => jointSort[j] === bodySort)
    for (let j = rail; j < rail + pattern.across; j++) shares[first + j] = 1
    const size = 200 * dpr
    const raster = { width: size, height: size, pixels: new Uint32Array(size * size) }
    const { runs } = geometry
    const view = {
      x: 20 - k * runs.cornerX[0],
      y: 150 + k * runs.cornerY[0],
      k,
      widthPx: 200,
      heightPx: 200,
      dpr,
    }
    const sight = sightOf(raster, geometry, view, palette)
    clear(raster, packed(palette.ground))
    drawCurrents(sight, currentPieces(geometry, shares), widestCurrentPx(k, geometry), 0)
    const column = Math.round((20 + (k * pattern.size.alongM) / 2) * dpr)
    let covered = 0
    for (let row = 0; row < size; row++)
      if (raster.pixels[row * size + column] !== packed(palette.ground)) covered++
    return covered / (k * dpr * pattern.size.upM)
  }

  it.each([
    [2.6, 1],
    [2.6, 2],
    [3.9, 3],
    [5, 1],
    [14, 1],
  ])('leaves its table to be seen at %s px a metre, %s device pixels each', (k, dpr) => {
    const share = coveredShare(k, dpr)
    expect(share).toBeGreaterThan(0.05)
    expect(share).toBeLessThan(0.5)
  })
})

describe('the legend of currents', () => {
  it.each([2.6, 9, 40])('has the widths that the map has at %s px a metre', (k) => {
    const marks = {
      ...noMarks,
      fault: {
        partV: null,
        lossV: null,
        currentA: new Float32Array(geometry.index.jointCount),
        mostA: 20,
        at: 0,
        second: null,
        person: null,
        altered: [],
        isPaused: false,
      },
    }
    const widestPx = widestCurrentPx(k, geometry)
    const entries = legendOf(levelOf(k, geometry), { palette, marks }, geometry, widestPx)
    const { steps } = entries.find(({ key }) => key === 'faultCurrent')!
    for (const { value, swatch } of steps)
      expect(swatch).toMatchObject({ widthPx: currentWidthPx(value / 20, widestPx) })
  })
})
