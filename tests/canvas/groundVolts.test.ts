import { describe, expect, it } from 'vitest'
import { packed } from '../../src/canvas/colour.ts'
import { buildGeometry } from '../../src/canvas/geometry.ts'
import { groundContours } from '../../src/canvas/groundContours.ts'
import { legendOf } from '../../src/canvas/legend.ts'
import { partPointM } from '../../src/canvas/markPoints.ts'
import { toScreen, type View } from '../../src/canvas/mapTypes.ts'
import { groundWishes } from '../../src/canvas/overlayGround.ts'
import { paintBase } from '../../src/canvas/paintBase.ts'
import { palettes } from '../../src/canvas/palette.ts'
import { Picture } from '../../src/canvas/picture.ts'
import { SvgSheet } from '../../src/canvas/svgSheet.ts'
import { groundInks, voltClass, voltInks, voltSteps } from '../../src/canvas/voltSteps.ts'
import { partKindAt } from '../../src/layout/partIndex.ts'
import { frameCode } from '../../src/layout/partKinds.ts'
import { noMarks, type FaultMarks, type GroundPicture } from '../../src/state/mapMarks.ts'
import { formatVolt } from '../../src/text/ohms.ts'
import { drawingOf, indexOf } from '../layout/smallDrawings.ts'
import { contrastOf } from './colourSight.ts'
import { demoIndex } from './demoIndex.ts'

const bare = buildGeometry(indexOf(drawingOf({})))
const field = buildGeometry(demoIndex('field'))

/** Volts round one place, less with the distance. */
function hill(ofVolt: (x: number, y: number) => number, across = 81, high = 61, stepM = 0.5): GroundPicture {
  const fromM = { x: -20, y: -15 }
  const volt = Float32Array.from({ length: across * high }, (_, k) =>
    ofVolt(fromM.x + (k % across) * stepM, fromM.y + Math.floor(k / across) * stepM),
  )
  return { fromM, stepM, across, high, volt }
}
const round = (x: number, y: number) => 700 / (1 + Math.hypot(x, y) ** 2 / 3)

function faultWith(picture: GroundPicture | null): FaultMarks {
  const ground = picture && { picture, mostStep: null, stand: null }
  const nothing = { lossV: null, currentA: null, mostA: 0, second: null, person: null }
  return { partV: null, ...nothing, at: 0, altered: [], isPaused: false, ground }
}

const view: View = { x: 200, y: 150, k: 9, widthPx: 400, heightPx: 300, dpr: 1 }
function painted(picture: GroundPicture | null, palette = palettes.light, geometry = bare, at = view) {
  const raster = { width: 400, height: 300, pixels: new Uint32Array(400 * 300) }
  paintBase(raster, geometry, at, { palette, marks: { ...noMarks, fault: faultWith(picture) } })
  return raster
}

describe('the ground on the map', () => {
  it.each(Object.values(palettes))('has the step of its volts at every pixel, theme $name', (palette) => {
    const { pixels } = painted(hill(round), palette)
    const inks = [palette.ground, ...groundInks.map((ink) => palette[ink])].map(packed)
    let looked = 0
    for (let row = 20; row < 280; row += 7) {
      for (let column = 30; column < 370; column += 7) {
        const volt = round((column + 0.5 - 200) / 9, (150 - row - 0.5) / 9)
        // the line of a step, and what lies between two points of the grid, has the one or the other
        if (voltClass(0.75 * volt) !== voltClass(1.25 * volt)) continue
        // crosses by which the eye holds on lie over it
        const pixel = pixels[row * 400 + column]
        if (pixel === packed(palette.groundMark)) continue
        expect(pixel).toBe(inks[voltClass(volt)])
        looked++
      }
    }
    expect(looked).toBeGreaterThan(1000)
  })

  it('draws a line where a step begins, and neither tint nor line outside the picture', () => {
    const plain = painted(null)
    const small = hill(round, 20, 20)
    const { pixels } = painted(small)
    const line = packed(palettes.light.groundLine)
    expect(pixels.includes(line)).toBe(true)
    expect(plain.pixels.includes(line)).toBe(false)
    const end = toScreen(view, { x: -20 + 19 * 0.5, y: -15 })
    for (let row = 0; row < 300; row++)
      for (let column = Math.ceil(end.x) + 3; column < 400; column++)
        expect(pixels[row * 400 + column]).toBe(plain.pixels[row * 400 + column])
  })

  it('is under the tables: their pixels are those without it, near and far', () => {
    const { boundsM } = field
    const volts = hill(() => 80, 300, 300, 1)
    const around = { ...volts, fromM: { x: boundsM.minX - 50, y: boundsM.minY - 50 } }
    const middle = { x: (boundsM.minX + boundsM.maxX) / 2, y: (boundsM.minY + boundsM.maxY) / 2 }
    for (const k of [4, 40]) {
      const at = { ...view, k, x: 200 - k * middle.x, y: 150 + k * middle.y }
      const [without, over] = [
        painted(null, palettes.light, field, at),
        painted(around, palettes.light, field, at),
      ]
      let looked = 0
      for (let part = 0; part < field.index.enclosureStart; part++) {
        if (partKindAt(field.index, part) !== frameCode) continue
        const { x, y } = toScreen(at, partPointM(field, part)!)
        if (!(x >= 0 && y >= 0 && x < 400 && y < 300)) continue
        const pixel = Math.floor(y) * 400 + Math.floor(x)
        expect(over.pixels[pixel]).toBe(without.pixels[pixel])
        looked++
      }
      expect(looked).toBeGreaterThan(10)
      expect(over.pixels.includes(packed(palettes.light.ground3))).toBe(true)
      // what a table darkens beside it would look like ground with other volts
      expect(over.pixels.includes(packed(palettes.light.shadow))).toBe(false)
    }
  })

  it('is painted again when another picture of it comes, and moves with the view', () => {
    const raster = { width: 400, height: 300, pixels: new Uint32Array(400 * 300) }
    const picture = new Picture()
    picture.useRaster(raster)
    const paint = (ground: GroundPicture) => ({
      palette: palettes.light,
      marks: { ...noMarks, fault: faultWith(ground) },
    })
    const [one, other] = [hill(round), hill((x, y) => 2 * round(x, y))]
    picture.show(bare, view, paint(one))
    expect(raster.pixels).toEqual(painted(one).pixels)
    picture.show(bare, view, paint(other))
    expect(raster.pixels).toEqual(painted(other).pixels)
    const aside = { ...view, x: 231, y: 140 }
    picture.show(bare, aside, paint(other))
    expect(raster.pixels).toEqual(painted(other, palettes.light, bare, aside).pixels)
  })

  it('counts volts of either sign alike, and shows the nothing between them', () => {
    const { pixels } = painted(hill((x) => x))
    const at = (column: number) => pixels[60 * 400 + column]
    expect(at(200 - 9 * 10)).toBe(at(200 + 9 * 10))
    expect(at(204)).toBe(packed(palettes.light.ground))
  })

  it('is written into a picture of shapes as areas with holes', () => {
    const ring = hill((x, y) => Math.max(0, 60 - 12 * Math.abs(Math.hypot(x, y) - 8)))
    const sheet = new SvgSheet(400, 300)
    const raster = { width: 6400, height: 4800, pixels: new Uint32Array(0), shapes: sheet.sink(16) }
    paintBase(
      raster,
      bare,
      { ...view, dpr: 16 },
      {
        palette: palettes.light,
        marks: { ...noMarks, fault: faultWith(ring) },
      },
    )
    const text = sheet.text('Ground')
    const areas = [...text.matchAll(/<path fill="(#\w+)" fill-rule="evenodd" d="([^"]+)"/g)]
    expect(areas.map(([, ink]) => ink)).toEqual(groundInks.slice(0, 3).map((ink) => palettes.light[ink]))
    for (const [, , path] of areas) expect(path.match(/M/g)).toHaveLength(2)
  })
})

describe('lines of equal volts', () => {
  it('lie where the ground has so many, and leave out the frame', () => {
    const contours = groundContours(hill(round))
    expect(contours.map(({ step }) => voltSteps[step])).toEqual(voltSteps.filter((step) => step <= 700))
    for (const { step, lines } of contours) {
      for (const line of lines) {
        for (const { x, y } of line) {
          expect(Math.abs(x) < 20.01 && Math.abs(y) < 15.01).toBe(true)
          // a chord between points of the grid lies a little inside its curve, the more where it bends most
          expect(round(x, y) / voltSteps[step]).toBeGreaterThan(0.85)
          expect(round(x, y) / voltSteps[step]).toBeLessThan(1.15)
        }
      }
    }
    const even = groundContours(hill(() => 60))
    expect(even.map(({ rings }) => rings.length)).toEqual([1, 1, 1])
    expect(even.flatMap(({ lines }) => lines)).toEqual([])
  })

  it('have their values on bare ground in sight alone, each line some', () => {
    const within = { left: 0, top: 0, right: 400, bottom: 300 }
    const isLeft = ({ x }: { x: number }) => x < 200
    const wishes = groundWishes(hill(round), view, within, isLeft, formatVolt)
    expect(new Set(wishes.map(({ of }) => of.text))).toEqual(new Set(['10 V', '50 V', '120 V']))
    for (const { places } of wishes) {
      expect(places.length).toBeGreaterThan(0)
      for (const { x, y } of places) {
        expect(x).toBeLessThan(200 - 20)
        expect(y >= 0 && y <= 300).toBe(true)
      }
    }
  })
})

describe('steps of the ground', () => {
  it.each(Object.values(palettes))(
    'go one way from the ground, without hue, and are not those of parts, theme $name',
    (palette) => {
      const steps = groundInks.map((ink) => palette[ink])
      const fromGround = steps.map((ink) => contrastOf(ink, palette.ground))
      expect(fromGround).toEqual([...fromGround].sort((a, b) => a - b))
      for (const [k, ink] of steps.entries()) {
        expect(contrastOf(ink, k === 0 ? palette.ground : steps[k - 1])).toBeGreaterThan(1.08)
        const channels = [1, 3, 5].map((at) => Number.parseInt(ink.slice(at, at + 2), 16))
        expect(Math.max(...channels) - Math.min(...channels)).toBeLessThan(14)
        // the line is seen on both sides of where a step begins
        expect(contrastOf(ink, palette.groundLine)).toBeGreaterThan(2.4)
        expect(voltInks.map((part) => palette[part])).not.toContain(ink)
      }
      expect(contrastOf(palette.label, steps[4])).toBeGreaterThan(4.5)
    },
  )

  it('are in the legend with their values while the map shows them', () => {
    const keys = (picture: GroundPicture | null) =>
      legendOf('frames', { palette: palettes.dark, marks: { ...noMarks, fault: faultWith(picture) } }, bare)
    expect(keys(null).map(({ key }) => key)).not.toContain('groundVolts')
    const entry = keys(hill(round)).find(({ key }) => key === 'groundVolts')!
    expect(entry.steps.map(({ value }) => value)).toEqual([...voltSteps])
    expect(entry.steps.map(({ swatch }) => swatch)).toMatchObject(
      groundInks.map((ink) => ({ shape: 'ground', fill: palettes.dark[ink] })),
    )
  })
})
