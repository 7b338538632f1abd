import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { blended, packed } from '../../src/canvas/colour.ts'
import {
  clear,
  fillBox,
  fillDot,
  fillRect,
  fillWhole,
  strokeLine,
  strokeRing,
  type Raster,
} from '../../src/canvas/rasteriser.ts'

const paper = packed('#ffffff')
const ink = packed('#000000')

/** A white picture inside a guard of words that no drawing may touch. */
function pictureOf(width: number, height: number): Raster & { readonly guard: Uint32Array } {
  const guard = new Uint32Array(width * height + 200).fill(7)
  const pixels = guard.subarray(100, 100 + width * height)
  const raster = { width, height, pixels, guard }
  clear(raster, paper)
  return raster
}

/** Share of ink, 0 … 1, row by row, in hundredths. */
function inkOf({ width, height, pixels }: Raster): number[][] {
  return Array.from({ length: height }, (_, row) =>
    Array.from({ length: width }, (_, column) => {
      const green = (pixels[row * width + column] >>> 8) & 0xff
      return Math.round(100 * (1 - green / 255))
    }),
  )
}

function inkSum(raster: Raster): number {
  return inkOf(raster)
    .flat()
    .reduce((sum, share) => sum + share / 100, 0)
}

function guardIsWhole({ guard }: { readonly guard: Uint32Array }): boolean {
  return (
    guard.subarray(0, 100).every((word) => word === 7) && guard.subarray(-100).every((word) => word === 7)
  )
}

describe('colours', () => {
  it('are words in the order of ImageData', () => {
    const bytes = new Uint8Array(new Uint32Array([packed('#123456')]).buffer)
    expect([...bytes]).toEqual([0x12, 0x34, 0x56, 0xff])
  })

  it('mix channel by channel, and stay opaque', () => {
    const colour = fc.integer({ min: 0, max: 0xffffff })
    const hex = (value: number) => `#${value.toString(16).padStart(6, '0')}`
    fc.assert(
      fc.property(colour, colour, fc.integer({ min: 0, max: 256 }), (under, over, weight) => {
        const mixed = new Uint32Array([blended(packed(hex(under)), packed(hex(over)), weight)])
        const bytes = [...new Uint8Array(mixed.buffer)]
        const expected = [16, 8, 0].map((shift) => {
          const [a, b] = [(under >> shift) & 0xff, (over >> shift) & 0xff]
          return Math.floor((a * (256 - weight) + b * weight) / 256)
        })
        expect(bytes).toEqual([...expected, 255])
      }),
      { seed: 1 },
    )
  })
})

describe('fillWhole', () => {
  it('fills the pixels between two corners', () => {
    const raster = pictureOf(4, 3)
    fillWhole(raster, 1, 1, 3, 2, ink)
    expect(inkOf(raster)).toEqual([
      [0, 0, 0, 0],
      [0, 100, 100, 0],
      [0, 0, 0, 0],
    ])
  })

  it('fills long runs as well', () => {
    const raster = pictureOf(60, 1)
    fillWhole(raster, 5, -3, 58, 9, ink)
    expect(inkOf(raster)[0]).toEqual(Array.from({ length: 60 }, (_, i) => (i >= 5 && i < 58 ? 100 : 0)))
  })
})

describe('fillRect', () => {
  it('weighs pixels at the edge by what is covered', () => {
    const raster = pictureOf(4, 4)
    fillRect(raster, 0.5, 1, 2.25, 2.5, ink)
    expect(inkOf(raster)).toEqual([
      [0, 0, 0, 0],
      [50, 100, 25, 0],
      [25, 50, 13, 0],
      [0, 0, 0, 0],
    ])
  })

  it('draws what lies inside one pixel', () => {
    const raster = pictureOf(3, 3)
    fillRect(raster, 1.25, 1.25, 1.75, 1.75, ink)
    expect(inkOf(raster)).toEqual([
      [0, 0, 0],
      [0, 25, 0],
      [0, 0, 0],
    ])
  })

  it('is see-through by its opacity', () => {
    const raster = pictureOf(2, 1)
    fillRect(raster, 0, 0, 1, 1, ink, 0.5)
    expect(inkOf(raster)).toEqual([[50, 0]])
  })
})

describe('fillBox', () => {
  it('is fillRect where it stands upright, whichever way it points', () => {
    const straight = pictureOf(9, 9)
    fillRect(straight, 1.5, 3.25, 7.5, 5.75, ink)
    for (const [ux, uy, along, across] of [
      [1, 0, 3, 1.25],
      [-1, 0, 3, 1.25],
      [0, 1, 1.25, 3],
      [0, -1, 1.25, 3],
    ]) {
      const box = pictureOf(9, 9)
      fillBox(box, 4.5, 4.5, ux, uy, along, across, ink)
      expect(inkOf(box)).toEqual(inkOf(straight))
    }
  })

  it('stands on its corner at 45 degrees', () => {
    const raster = pictureOf(5, 5)
    fillBox(raster, 2.5, 2.5, Math.SQRT1_2, Math.SQRT1_2, 1.5, 1.5, ink)
    const shares = inkOf(raster)
    expect(shares[2][2]).toBe(100)
    // centre of (3, 2) is 0.71 from the middle both along and across; of (4, 2) it is 1.41: 1.5 + 0.5 − 1.41 = 0.59
    expect(shares[2][3]).toBe(100)
    expect(shares[2][4]).toBeCloseTo(34, -0.5)
    expect(shares[3][3]).toBeCloseTo(59, -0.5)
    expect(shares[0][0]).toBe(0)
    expect(shares[4][0]).toBe(0)
  })

  it('covers its own area at any place, angle and size', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 14, max: 26, noNaN: true }),
        fc.double({ min: 14, max: 26, noNaN: true }),
        fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
        fc.double({ min: 1.5, max: 12, noNaN: true }),
        fc.double({ min: 0.3, max: 12, noNaN: true }),
        (cx, cy, angle, along, across) => {
          const raster = pictureOf(40, 40)
          fillBox(raster, cx, cy, Math.cos(angle), Math.sin(angle), along, across, ink)
          const area = 4 * along * across
          // weights are rounded to 1/256 and read back in hundredths; corners are weighed by the product
          expect(Math.abs(inkSum(raster) - area)).toBeLessThan(0.06 * (along + across) + 0.04 * area + 0.4)
        },
      ),
      { seed: 2 },
    )
  })

  it('has whole ink in its middle and none a pixel outside', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
        fc.double({ min: 2, max: 14, noNaN: true }),
        fc.double({ min: 2, max: 14, noNaN: true }),
        (angle, along, across) => {
          const raster = pictureOf(60, 60)
          const [ux, uy] = [Math.cos(angle), Math.sin(angle)]
          fillBox(raster, 30.2, 29.7, ux, uy, along, across, ink)
          inkOf(raster).forEach((row, y) =>
            row.forEach((share, x) => {
              const [dx, dy] = [x + 0.5 - 30.2, y + 0.5 - 29.7]
              const outAlong = Math.abs(dx * ux + dy * uy) - along
              const outAcross = Math.abs(dy * ux - dx * uy) - across
              if (Math.max(outAlong, outAcross) < -0.75) expect(share).toBe(100)
              if (Math.max(outAlong, outAcross) > 0.75) expect(share).toBe(0)
            }),
          )
        },
      ),
      { seed: 3, numRuns: 50 },
    )
  })
})

describe('strokeLine', () => {
  it('draws a hairline between pixel middles', () => {
    const raster = pictureOf(5, 3)
    strokeLine(raster, 1, 1.5, 4, 1.5, 1, ink)
    expect(inkOf(raster)).toEqual([
      [0, 0, 0, 0, 0],
      [0, 100, 100, 100, 0],
      [0, 0, 0, 0, 0],
    ])
  })

  it('draws thin slanted lines with the ink of their width, either way', () => {
    for (const [x1, y1] of [
      [35, 12],
      [12, 35],
    ]) {
      for (const width of [0.6, 1, 2]) {
        const there = pictureOf(40, 40)
        strokeLine(there, 4, 4, x1, y1, width, ink)
        const back = pictureOf(40, 40)
        strokeLine(back, x1, y1, 4, 4, width, ink)
        const lengthPx = Math.hypot(x1 - 4, y1 - 4)
        expect(Math.abs(inkSum(there) / (lengthPx * width) - 1)).toBeLessThan(0.05)
        expect(inkOf(back)).toEqual(inkOf(there))
      }
    }
  })

  it('draws nothing for a line without length', () => {
    const raster = pictureOf(3, 3)
    strokeLine(raster, 1, 1, 1, 1, 2, ink)
    expect(inkSum(raster)).toBe(0)
  })
})

describe('dots and rings', () => {
  it('cover the area of their circles', () => {
    for (const radius of [1.5, 3, 7.3]) {
      const dot = pictureOf(30, 30)
      fillDot(dot, 14.3, 15.1, radius, ink)
      expect(Math.abs(inkSum(dot) / (Math.PI * radius ** 2) - 1)).toBeLessThan(0.05)
    }
    const ring = pictureOf(30, 30)
    strokeRing(ring, 15, 15, 6, 9, ink)
    expect(Math.abs(inkSum(ring) / (Math.PI * (81 - 36)) - 1)).toBeLessThan(0.03)
    expect(inkOf(ring)[15][15]).toBe(0)
    expect(inkOf(ring)[15][15 + 7]).toBe(100)
  })
})

describe('clipping', () => {
  const anywhere = fc.double({ min: -80, max: 80, noNaN: true })

  it('never writes outside, and draws inside what a larger picture would hold', () => {
    fc.assert(
      fc.property(
        anywhere,
        anywhere,
        anywhere,
        anywhere,
        fc.double({ min: 0.2, max: 30, noNaN: true }),
        (a, b, c, d, size) => {
          const draw = (raster: Raster, left: number, top: number) => {
            fillWhole(
              raster,
              Math.round(a) + left,
              Math.round(b) + top,
              Math.round(c) + left,
              Math.round(d) + top,
              ink,
            )
            fillRect(raster, a + left, b + top, c + left, d + top, ink, 0.5)
            strokeLine(raster, a + left, b + top, c + left, d + top, size / 4, ink, 0.5)
            fillDot(raster, c + left, b + top, size, ink, 0.5)
            strokeRing(raster, a + left, d + top, size / 2, size, ink, 0.5)
            fillBox(raster, b + left, a + top, 0.6, 0.8, size, size / 3, ink, 0.5)
          }
          const small = pictureOf(12, 9)
          draw(small, 0, 0)
          expect(guardIsWhole(small)).toBe(true)
          const large = pictureOf(220, 220)
          draw(large, 100, 100)
          const window = inkOf(large)
            .slice(100, 109)
            .map((row) => row.slice(100, 112))
          inkOf(small).forEach((row, y) =>
            row.forEach((share, x) => expect(Math.abs(share - window[y][x])).toBeLessThanOrEqual(2)),
          )
        },
      ),
      { seed: 4, numRuns: 200 },
    )
  })

  it('takes what is no number for nothing', () => {
    const raster = pictureOf(6, 6)
    for (const bad of [NaN, Infinity, -Infinity]) {
      fillDot(raster, bad, 3, 2, ink)
      fillBox(raster, 3, bad, 0.6, 0.8, 2, 2, ink)
      strokeLine(raster, 1, 1, bad, 3, 1, ink)
      fillRect(raster, NaN, 1, 3, 3, ink)
    }
    expect(inkSum(raster)).toBe(0)
    expect(guardIsWhole(raster)).toBe(true)
  })
})
