import { describe, expect, it } from 'vitest'
import { packed } from '../../src/canvas/colour.ts'
import { buildGeometry } from '../../src/canvas/geometry.ts'
import { drawReadingLines } from '../../src/canvas/drawReadingLines.ts'
import { partPointM } from '../../src/canvas/markPoints.ts'
import type { View } from '../../src/canvas/mapTypes.ts'
import { arcBetween, pointOn } from '../../src/canvas/overlayCurves.ts'
import { readingEdges } from '../../src/canvas/overlayEdges.ts'
import { palettes } from '../../src/canvas/palette.ts'
import { clear } from '../../src/canvas/rasteriser.ts'
import { cellM, isQuiet, looksUpwards, readingPicture } from '../../src/canvas/readingPicture.ts'
import { sightOf } from '../../src/canvas/sight.ts'
import { partOf, type ReadingMark } from '../../src/state/mapMarks.ts'
import type { LineLook } from '../../src/state/readingLook.ts'
import { demoIndex } from './demoIndex.ts'
import { readingsOf } from './readingsOf.ts'

const geometry = buildGeometry(demoIndex('field'))
const { index } = geometry
const part = (address: string) => partOf(index, address)!
const reading = (entry: string, from: string, to: string, look: LineLook): ReadingMark => ({
  entry,
  from: part(from),
  to: part(to),
  look,
  label: '1 Ω',
  isPicked: false,
})
const quietOf = (marks: readonly ReadingMark[]) => marks.filter(({ look }) => isQuiet(look)).length

describe('the readings of a zoom', () => {
  const marks = readingsOf(index, 400, [...Array.from({ length: 9 }, () => 'within' as const), 'investigate'])
  const edges = readingEdges(geometry, marks)

  it('have all that ask for something, and fewer of the quiet ones the smaller the map', () => {
    const lines = [400, 40, 4, 0.4, 0.04].map((k) => {
      const { shown, quiet, quietLines } = readingPicture(edges, cellM(k))
      const drawn = Array.from(shown, (i) => edges.marks[i])
      expect(drawn.filter(({ look }) => look === 'investigate')).toHaveLength(40)
      expect(quiet).toBe(quietOf(edges.marks))
      expect(quietOf(drawn)).toBe(quietLines)
      return quietLines
    })
    expect(lines[0]).toBe(quietOf(edges.marks))
    for (let i = 1; i < lines.length; i++) expect(lines[i]).toBeLessThanOrEqual(lines[i - 1])
    expect(lines.at(-1)).toBeLessThan(5)
  })

  it('lie on one another by gravity, and many quiet ones are faint', () => {
    const { shown, quietOpacity } = readingPicture(edges, cellM(400))
    const ranks = Array.from(shown, (i) => looksUpwards.indexOf(edges.marks[i].look))
    expect(ranks).toEqual([...ranks].sort((a, b) => a - b))
    expect(quietOpacity).toBeLessThan(1)
    expect(readingPicture(readingEdges(geometry, marks.slice(0, 20)), cellM(10)).quietOpacity).toBe(1)
  })

  it('are thin and faint where they are short on the screen, and never those that ask for something', () => {
    const few = readingEdges(geometry, marks.slice(0, 20))
    const [far, near] = [readingPicture(few, cellM(1)), readingPicture(few, cellM(10))]
    expect(far.quietStrength).toBeLessThan(0.7)
    expect(far.quietOpacity).toBeLessThan(0.7)
    expect(near.quietStrength).toBe(1)
  })

  it('never hide the one that is chosen in another', () => {
    const pair = ['R1/T1/F1.1', 'R1/T4/F2.3'] as const
    const two = [reading('a', ...pair, 'within'), { ...reading('b', ...pair, 'within'), isPicked: true }]
    const { shown } = readingPicture(readingEdges(geometry, two), cellM(1))
    expect(shown).toHaveLength(2)
  })

  it('change in steps of zoom, so that a slow zoom does not change them at every frame', () => {
    const cells = new Set(Array.from({ length: 100 }, (_, i) => cellM(2 * 1.01 ** i)))
    expect(cells.size).toBeLessThan(6)
  })
})

describe('a reading in pixels', () => {
  const view: View = { x: 40, y: 300, k: 8, widthPx: 700, heightPx: 320, dpr: 1 }
  const [from, to] = ['R1/T1/F1.1', 'R1/T6/F2.3']

  function drawn(look: LineLook) {
    const [width, height] = [view.widthPx, view.heightPx]
    const raster = { width, height, pixels: new Uint32Array(width * height) }
    const palette = palettes.light
    clear(raster, packed(palette.ground))
    const edges = readingEdges(geometry, [reading('a', from, to, look)])
    drawReadingLines(sightOf(raster, geometry, view, palette), readingPicture(edges, cellM(view.k)), palette)
    const inks = raster.pixels.filter((pixel) => pixel === packed(palette.readings[look])).length
    return {
      raster,
      inks,
      at: (x: number, y: number) => raster.pixels[Math.floor(y) * width + Math.floor(x)],
    }
  }
  const place = (address: string) => {
    const { x, y } = partPointM(geometry, part(address))!
    return { x: view.x + view.k * x, y: view.y - view.k * y }
  }
  const curve = arcBetween(place(from), place(to))

  it('runs along its curve, with its ends, and nowhere else', () => {
    const { at } = drawn('investigate')
    const ink = packed(palettes.light.readings.investigate)
    for (const t of [0.01, 0.1, 0.3, 0.7, 0.93]) {
      const { x, y } = pointOn(curve, t)
      expect(at(x, y)).toBe(ink)
      expect(at(x, y + 15)).toBe(packed(palettes.light.ground))
    }
  })

  it('carries the mark of its look in the middle', () => {
    const { x, y } = pointOn(curve, 0.5)
    const { readings, halo, ground } = palettes.light
    expect(drawn('investigate').at(x, y - 4)).toBe(packed(readings.investigate))
    expect(drawn('investigate').at(x + 5, y + 4)).toBe(packed(readings.investigate))
    expect(drawn('poorContact').at(x, y)).toBe(packed(halo))
    expect(drawn('noMetalPath').at(x, y)).toBe(packed(ground))
    expect(drawn('within').at(x, y - 6)).toBe(packed(ground))
  })

  it('is thickest where it is to be investigated, broken where it is over range', () => {
    const strong = drawn('investigate').inks
    for (const look of looksUpwards) if (look !== 'investigate') expect(drawn(look).inks).toBeLessThan(strong)
    const ink = packed(palettes.light.readings.overRange)
    const { at } = drawn('overRange')
    const along = Array.from({ length: 200 }, (_, i) => pointOn(curve, 0.1 + (0.3 * i) / 200))
    const isInk = along.map(({ x, y }) => at(x, y) === ink)
    const changes = isInk.filter((is, i) => i > 0 && is !== isInk[i - 1]).length
    expect(changes).toBeGreaterThan(6)
  })
})
