import { afterEach, expect, it } from 'vitest'
import fieldText from '../../demo-data/field.json?raw'
import { BaseLayer } from '../../src/canvas/baseLayer.ts'
import { buildGeometry } from '../../src/canvas/geometry.ts'
import type { BasePaint } from '../../src/canvas/basePaint.ts'
import { toScreen, type View } from '../../src/canvas/mapTypes.ts'
import { jointPointM } from '../../src/canvas/markPoints.ts'
import { channelsOf, palettes, suspectColour } from '../../src/canvas/palette.ts'
import { openSite } from '../../src/files/openSite.ts'
import { jointIndexOf } from '../../src/layout/jointIndex.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { parseJointAddress } from '../../src/model/address.ts'
import type { PointM } from '../../src/model/schema/primitives.ts'

function fieldGeometry() {
  const opened = openSite(new TextEncoder().encode(fieldText), 'field.json')
  if (!opened.ok) throw new Error(JSON.stringify(opened.error))
  const index = indexSite(opened.value.drawing)
  if (!index.ok) throw new Error(JSON.stringify(index.error))
  return buildGeometry(index.value)
}

const geometry = fieldGeometry()
const suspect = jointIndexOf(geometry.index, parseJointAddress('R2/T3+T4~1')!)
const table = { x: 12 + 1.15 + 0.565, y: 6.5 + 1.03 }
const between = { x: 30, y: 11.2 }

function show(): HTMLCanvasElement {
  const canvas = document.createElement('canvas')
  document.body.append(canvas)
  return canvas
}

function viewOf(k: number, middle: PointM, dpr: number): View {
  const [widthPx, heightPx] = [900, 500]
  return { x: widthPx / 2 - k * middle.x, y: heightPx / 2 + k * middle.y, k, widthPx, heightPx, dpr }
}

function pixelAt(canvas: HTMLCanvasElement, view: View, point: PointM): number[] {
  const { x, y } = toScreen(view, point)
  const { data } = canvas
    .getContext('2d')!
    .getImageData(Math.floor(x * view.dpr), Math.floor(y * view.dpr), 1, 1)
  return [...data]
}

const opaque = (colour: string) => [...channelsOf(colour), 255]

afterEach(() => document.body.replaceChildren())

it.each([
  [4, 1],
  [14, 1],
  [14, 2],
  [30, 1.5],
])('a canvas holds tables, the ground between them and a suspect at %f px/m, %f device pixels', (k, dpr) => {
  const canvas = show()
  const layer = new BaseLayer(canvas)
  for (const palette of Object.values(palettes)) {
    const mark = { joint: suspect, probability: 0.6, rank: 1, isPicked: false }
    const paint: BasePaint = { palette, marks: { suspects: [mark], currentPerAmpere: null } }
    for (const [middle, colour] of [
      [between, palette.ground],
      [jointPointM(geometry, suspect), suspectColour(palette, 0.6)],
    ] as const) {
      const view = viewOf(k, middle, dpr)
      layer.draw(geometry, view, paint)
      expect([canvas.width, canvas.height]).toEqual([900 * dpr, 500 * dpr])
      expect(pixelAt(canvas, view, middle)).toEqual(opaque(colour))
    }
    const view = viewOf(Math.max(k, 14), table, dpr)
    layer.draw(geometry, view, paint)
    expect(pixelAt(canvas, view, table)).toEqual(opaque(palette.module))
  }
})

it('a canvas follows its size, and current comes and goes with what is asked', () => {
  const canvas = show()
  const layer = new BaseLayer(canvas)
  const { palette } = { palette: palettes.light }
  const middle = jointPointM(geometry, suspect)
  const currentPerAmpere = new Float32Array(geometry.index.jointCount)
  currentPerAmpere[suspect] = 0.8
  const view = viewOf(30, middle, 1)
  layer.draw(geometry, view, { palette, marks: { suspects: [], currentPerAmpere } })
  expect(pixelAt(canvas, view, middle)).toEqual(opaque(palette.current))
  const small = { ...view, widthPx: 300, heightPx: 200, x: 150 - 30 * middle.x, y: 100 + 30 * middle.y }
  layer.draw(geometry, small, { palette, marks: { suspects: [], currentPerAmpere: null } })
  expect([canvas.width, canvas.height]).toEqual([300, 200])
  expect(pixelAt(canvas, small, middle)).toEqual(opaque(palette.joint))
})
