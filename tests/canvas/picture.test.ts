import { expect, it } from 'vitest'
import { buildGeometry } from '../../src/canvas/geometry.ts'
import type { BasePaint } from '../../src/canvas/basePaint.ts'
import type { View } from '../../src/canvas/mapTypes.ts'
import { readingEdges } from '../../src/canvas/overlayEdges.ts'
import { palettes } from '../../src/canvas/palette.ts'
import { Picture } from '../../src/canvas/picture.ts'
import { cellM, looksUpwards, readingPicture } from '../../src/canvas/readingPicture.ts'
import { demoIndex } from './demoIndex.ts'
import { readingsOf } from './readingsOf.ts'

const geometry = buildGeometry(demoIndex('field'))
const { index } = geometry
const edges = readingEdges(geometry, readingsOf(index, 40, looksUpwards))
const currentPerAmpere = Float32Array.from({ length: index.jointCount }, (_, j) => (j % 97 === 0 ? 0.4 : 0))
const suspects = [3, 500, 2000].map((joint, i) => ({
  joint,
  probability: 0.7 / (i + 1),
  rank: i + 1,
  isPicked: false,
}))

/** Every sight occurs, in no order. */
const sights = Uint8Array.from({ length: index.jointCount }, (_, j) => (j * 2654435761) % 7)

function paintAt(k: number): BasePaint {
  const readings = readingPicture(edges, cellM(k))
  return { palette: palettes.light, marks: { suspects, currentPerAmpere, sights }, readings }
}

function pictureOf({ widthPx, heightPx, dpr }: View): Picture {
  const picture = new Picture()
  const [width, height] = [Math.round(widthPx * dpr), Math.round(heightPx * dpr)]
  picture.useRaster({ width, height, pixels: new Uint32Array(width * height) })
  return picture
}

const viewOf = (k: number, dpr: number): View => ({
  x: 150 - 40 * k,
  y: 100 + 18 * k,
  k,
  widthPx: 300,
  heightPx: 200,
  dpr,
})

it.each([
  [2, 1],
  [5.3, 1],
  [9, 2],
  [31, 1.5],
])(
  'a pan at %f px/m, %f device pixels, paints only what comes into view, and nothing otherwise',
  (k, dpr) => {
    const paint = paintAt(k)
    let view = viewOf(k, dpr)
    const moved = pictureOf(view)
    expect(moved.show(geometry, view, paint)).toBe('all')
    for (const [dx, dy] of [
      [7, 0],
      [-3.4, 11.2],
      [0, -40],
      [-60.7, -1],
      [12, 12],
    ]) {
      view = { ...view, x: view.x + dx, y: view.y + dy }
      expect(moved.show(geometry, view, paint)).toBe('strips')
      const anew = pictureOf(view)
      anew.show(geometry, view, paint)
      const differing = anew.raster.pixels.reduce(
        (n, pixel, i) => n + Number(pixel !== moved.raster.pixels[i]),
        0,
      )
      expect(differing).toBe(0)
    }
    expect(moved.show(geometry, view, paint)).toBe('nothing')
  },
)

it('is painted anew after a zoom, a long way, and when what it shows has changed', () => {
  const view = viewOf(5, 1)
  const paint = paintAt(5)
  const picture = pictureOf(view)
  picture.show(geometry, view, paint)
  expect(picture.show(geometry, { ...view, k: 5.01 }, paint)).toBe('all')
  expect(picture.show(geometry, view, paint)).toBe('all')
  expect(picture.show(geometry, { ...view, x: view.x + 250 }, paint)).toBe('all')
  for (const change of [
    { palette: palettes.dark },
    { readings: readingPicture(edges, cellM(5)) },
    { marks: { suspects, currentPerAmpere: null } },
    { marks: { suspects: [], currentPerAmpere } },
  ]) {
    picture.show(geometry, view, paint)
    expect(picture.show(geometry, view, { ...paint, ...change })).toBe('all')
  }
})
