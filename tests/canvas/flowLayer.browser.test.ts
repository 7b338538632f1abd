import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import fieldText from '../../demo-data/field.json?raw'
import { FlowLayer } from '../../src/canvas/flowLayer.ts'
import { buildGeometry } from '../../src/canvas/geometry.ts'
import { jointPointM } from '../../src/canvas/markPoints.ts'
import { palettes } from '../../src/canvas/palette.ts'
import { openSite } from '../../src/files/openSite.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { noMarks, jointOf, type FaultMarks } from '../../src/state/mapMarks.ts'
import { frames, preferReducedMotion } from './browserInput.ts'

const opened = openSite(new TextEncoder().encode(fieldText), 'field.json')
if (!opened.ok) throw new Error('the field demo does not open')
const indexed = indexSite(opened.value.drawing)
if (!indexed.ok) throw new Error('the field demo cannot be numbered')
const index = indexed.value
const geometry = buildGeometry(index)
const jumper = jointOf(index, 'R3/T1+T2~1')!
const at = jointPointM(geometry, jumper)
const view = { x: 150 - 100 * at.x, y: 100 + 100 * at.y, k: 100, widthPx: 300, heightPx: 200, dpr: 1 }

const currentA = new Float32Array(index.jointCount)
currentA[jumper] = 14
const flowing: FaultMarks = {
  partV: null,
  lossV: null,
  currentA,
  mostA: 14,
  at: 0,
  second: null,
  person: null,
  altered: [],
  isPaused: false,
}

let canvas: HTMLCanvasElement
let layer: FlowLayer
beforeEach(() => {
  canvas = document.createElement('canvas')
  layer = new FlowLayer(canvas, () => view)
})
afterEach(async () => {
  layer.destroy()
  await preferReducedMotion(false)
})

const show = (fault: FaultMarks | null) =>
  layer.update({ geometry, marks: { ...noMarks, fault }, palette: palettes.light })
const pixels = () => [...canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height).data]
const isDrawn = () => pixels().some((value) => value > 0)

describe('dashes of a fault’s current', () => {
  it('move while something flows', async () => {
    await preferReducedMotion(false)
    show(flowing)
    expect(layer.isMoving).toBe(true)
    await frames(3)
    expect(isDrawn()).toBe(true)
    const before = pixels().join()
    await frames(6)
    expect(pixels().join()).not.toBe(before)
  })

  it('ask for no frames while nothing flows, and none once the fault is gone', async () => {
    show({ ...flowing, currentA: new Float32Array(index.jointCount) })
    expect(layer.isMoving).toBe(false)
    show({ ...flowing, mostA: 0 })
    expect(layer.isMoving).toBe(false)
    show(flowing)
    await frames(3)
    show(null)
    expect(layer.isMoving).toBe(false)
    expect(isDrawn()).toBe(false)
  })

  it('stop and leave the canvas empty when paused, and go on after', async () => {
    show(flowing)
    await frames(3)
    show({ ...flowing, isPaused: true })
    expect(layer.isMoving).toBe(false)
    expect(isDrawn()).toBe(false)
    show(flowing)
    expect(layer.isMoving).toBe(true)
  })

  it('stop while the page is hidden', async () => {
    show(flowing)
    await frames(2)
    Object.defineProperty(document, 'hidden', { configurable: true, value: true })
    document.dispatchEvent(new Event('visibilitychange'))
    expect(layer.isMoving).toBe(false)
    Reflect.deleteProperty(document, 'hidden')
    document.dispatchEvent(new Event('visibilitychange'))
    expect(layer.isMoving).toBe(true)
  })

  it('rest for who wants less motion', async () => {
    await preferReducedMotion(true)
    layer.destroy()
    layer = new FlowLayer(canvas, () => view)
    show(flowing)
    expect(layer.isMoving).toBe(false)
    await frames(3)
    expect(isDrawn()).toBe(false)
  })

  it('ask for nothing once the layer is gone', async () => {
    show(flowing)
    layer.destroy()
    expect(layer.isMoving).toBe(false)
    await frames(3)
    expect(layer.isMoving).toBe(false)
  })
})
