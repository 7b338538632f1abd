import { describe, expect, it } from 'vitest'
import { packed } from '../../src/canvas/colour.ts'
import { buildGeometry } from '../../src/canvas/geometry.ts'
import type { View } from '../../src/canvas/mapTypes.ts'
import { jointPointM } from '../../src/canvas/markPoints.ts'
import { readingEdges } from '../../src/canvas/overlayEdges.ts'
import { paintBase } from '../../src/canvas/paintBase.ts'
import { palettes, suspectColour } from '../../src/canvas/palette.ts'
import { cellM, readingPicture } from '../../src/canvas/readingPicture.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { jointAddressAt } from '../../src/layout/jointIndex.ts'
import { writeJointAddress } from '../../src/model/address.ts'
import { largeDrawing, largeIndex } from '../bench/canvas/largeSite.ts'
import { readingsOf } from './readingsOf.ts'

// A site of ten thousand tables on a wide screen, a tablet and a phone, all of it in view.
const size = { rows: 100, tables: 100, bearingDeg: 90 }
const missing = 1_000_003
const found = indexSite({
  ...largeDrawing(size),
  asBuilt: [
    {
      id: 1,
      found: { form: 'jointAbsent', joint: writeJointAddress(jointAddressAt(largeIndex(size), missing)) },
      on: null,
      note: '',
    },
  ],
  nextIds: { ...largeDrawing(size).nextIds, asBuilt: 2 },
})
if (!found.ok) throw new Error(JSON.stringify(found.error).slice(0, 300))
const index = found.value
const geometry = buildGeometry(index)
const palette = palettes.light

function fitted(widthPx: number, heightPx: number): View {
  const { minX, minY, maxX, maxY } = geometry.boundsM
  const k = Math.min((widthPx - 56) / (maxX - minX), (heightPx - 56) / (maxY - minY))
  const [x, y] = [widthPx / 2 - (k * (minX + maxX)) / 2, heightPx / 2 + (k * (minY + maxY)) / 2]
  return { x, y, k, widthPx, heightPx, dpr: 1 }
}

describe.each([
  [1920, 1000],
  [1180, 700],
  [390, 500],
])('on a screen of %d × %d', (widthPx, heightPx) => {
  const view = fitted(widthPx, heightPx)
  const edges = readingEdges(
    geometry,
    readingsOf(index, 500, [...Array.from({ length: 499 }, () => 'within' as const), 'investigate']),
  )
  const suspect = 600_000
  const raster = { width: widthPx, height: heightPx, pixels: new Uint32Array(widthPx * heightPx) }
  paintBase(raster, geometry, view, {
    palette,
    marks: {
      suspects: [{ joint: suspect, probability: 0.6, rank: 1, isPicked: false }],
      currentPerAmpere: null,
    },
    readings: readingPicture(edges, cellM(view.k)),
  })
  const near = (joint: number, ink: string, reachPx: number) => {
    const { x, y } = jointPointM(geometry, joint)
    const [column, row] = [Math.floor(view.x + view.k * x), Math.floor(view.y - view.k * y)]
    let pixels = 0
    for (let dy = -reachPx; dy <= reachPx; dy++) {
      for (let dx = -reachPx; dx <= reachPx; dx++) {
        if (raster.pixels[(row + dy) * widthPx + column + dx] === packed(ink)) pixels++
      }
    }
    return pixels
  }

  it('one suspect joint of millions is seen', () => {
    expect(near(suspect, suspectColour(palette, 0.6), 8)).toBeGreaterThan(40)
  })

  it('one missing joint is seen', () => {
    expect(near(missing, palette.label, 6)).toBeGreaterThan(8)
  })

  it('one reading to investigate is seen among five hundred in line', () => {
    const ink = packed(palette.readings.investigate)
    // The triangle of the look has some 87 pixels, its edges among them.
    expect(raster.pixels.filter((pixel) => pixel === ink).length).toBeGreaterThan(43)
  })
})
