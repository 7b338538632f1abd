import { describe, expect, it } from 'vitest'
import { packed } from '../../src/canvas/colour.ts'
import { buildGeometry, type MapGeometry } from '../../src/canvas/geometry.ts'
import type { BasePaint } from '../../src/canvas/basePaint.ts'
import { toScreen, type View } from '../../src/canvas/mapTypes.ts'
import { jointPointM } from '../../src/canvas/markPoints.ts'
import { paintBase } from '../../src/canvas/paintBase.ts'
import { palettes, suspectColour } from '../../src/canvas/palette.ts'
import { jointIndexOf } from '../../src/layout/jointIndex.ts'
import { parseJointAddress } from '../../src/model/address.ts'
import type { PointM } from '../../src/model/schema/primitives.ts'
import { demoIndex } from './demoIndex.ts'
import { drawingOf, indexOf, rowOf, typeOf } from '../layout/smallDrawings.ts'

const index = demoIndex('field')
const geometry = buildGeometry(index)
const bare: BasePaint = { palette: palettes.light, marks: { suspects: [], currentPerAmpere: null } }

function viewOf(k: number, middle: PointM, dpr = 1): View {
  const [widthPx, heightPx] = [400, 300]
  return { x: widthPx / 2 - k * middle.x, y: heightPx / 2 + k * middle.y, k, widthPx, heightPx, dpr }
}

interface Picture {
  readonly at: (point: PointM) => number
  readonly pixels: Uint32Array
}

function paint(view: View, painted: BasePaint, of: MapGeometry = geometry): Picture {
  const width = Math.round(view.widthPx * view.dpr)
  const height = Math.round(view.heightPx * view.dpr)
  const pixels = new Uint32Array(width * height)
  paintBase({ width, height, pixels }, of, view, painted)
  const at = (point: PointM) => {
    const { x, y } = toScreen(view, point)
    return pixels[Math.floor(y * view.dpr) * width + Math.floor(x * view.dpr)]
  }
  return { at, pixels }
}

const count = (pixels: Uint32Array, word: number) =>
  pixels.reduce((sum, pixel) => sum + (pixel === word ? 1 : 0), 0)
const jointOf = (text: string) => jointIndexOf(index, parseJointAddress(text)!)
const suspect = (joint: number, probability: number) => ({ joint, probability, rank: 1, isPicked: false })

describe('what is painted', () => {
  // the middle of module F1.2 of table R2/T2 in plan: a pitch of 1.15 m and half a module along, half of 2.28 m · cos 25° up
  const module = { x: 12 + 1.15 + 0.565, y: 6.5 + 1.14 * Math.cos((25 * Math.PI) / 180) }
  // 0.35 of the 0.52 m between two tables, beyond the shadow of the first
  const gap = { x: 11.48 + 0.35, y: 6.5 + 2.9 }
  const aisle = { x: 14, y: 5.5 }

  it('is a module, the ground of a gap and an aisle in their own colours', () => {
    const { at } = paint(viewOf(30, module), bare)
    expect(at(module)).toBe(packed(palettes.light.module))
    expect(at(gap)).toBe(packed(palettes.light.ground))
    expect(at(aisle)).toBe(packed(palettes.light.aisle))
  })

  it('is whole tables from far, with the gaps between rows kept open', () => {
    const { at } = paint(viewOf(2, { x: 40, y: 20 }), bare)
    expect(at({ x: 30, y: 8 })).toBe(packed(palettes.light.tableFar))
    expect(at({ x: 30, y: 11.4 })).toBe(packed(palettes.light.ground))
  })

  it.each(['light', 'dark', 'sunlight'] as const)('follows the theme %s', (name) => {
    const { at } = paint(viewOf(30, module), { ...bare, palette: palettes[name] })
    expect(at(module)).toBe(packed(palettes[name].module))
    expect(at(gap)).toBe(packed(palettes[name].ground))
  })

  it('is the same picture at twice the device pixels', () => {
    const { at } = paint(viewOf(30, module, 2), bare)
    expect(at(module)).toBe(packed(palettes.light.module))
    expect(at(gap)).toBe(packed(palettes.light.ground))
  })
})

describe('suspects', () => {
  const joint = jointOf('R2/T3+T4~1')
  const mark = jointPointM(geometry, joint)
  const painted: BasePaint = { ...bare, marks: { suspects: [suspect(joint, 0.4)], currentPerAmpere: null } }
  const colour = packed(suspectColour(palettes.light, 0.4))

  it.each([0.05, 0.5, 3, 12, 40, 200])('are seen at %f px/m, more than 3 px wide', (k) => {
    const { at, pixels } = paint(viewOf(k, mark), painted)
    expect(at(mark)).toBe(colour)
    expect(count(pixels, colour)).toBeGreaterThanOrEqual(7)
  })

  it('lie over current and over likelier neighbours under the likeliest', () => {
    const currentPerAmpere = new Float32Array(index.jointCount).fill(1)
    const suspects = [suspect(joint, 0.9), suspect(joint, 0.1)]
    const { at } = paint(viewOf(12, mark), { ...bare, marks: { suspects, currentPerAmpere } })
    expect(at(mark)).toBe(packed(suspectColour(palettes.light, 0.9)))
  })
})

describe('current', () => {
  const joint = jointOf('R1/T2+T3~1')
  const mark = jointPointM(geometry, joint)

  /** Pixels of the colour of current in the column of the mark. */
  function widthAt(share: number): number {
    const currentPerAmpere = new Float32Array(index.jointCount)
    currentPerAmpere[joint] = share
    const { pixels } = paint(viewOf(40, mark), { ...bare, marks: { suspects: [], currentPerAmpere } })
    const column = pixels.filter((_, i) => i % 400 === 200)
    return count(column, packed(palettes.light.current))
  }

  it('is as wide as the square root of its share says', () => {
    expect(widthAt(1)).toBeGreaterThanOrEqual(6)
    expect(widthAt(1)).toBeLessThanOrEqual(7)
    expect(widthAt(-0.25)).toBeGreaterThanOrEqual(3)
    expect(widthAt(-0.25)).toBeLessThanOrEqual(4)
    expect(widthAt(0.001)).toBe(0)
  })

  it('is drawn from far as well', () => {
    const currentPerAmpere = new Float32Array(index.jointCount)
    currentPerAmpere[jointOf('C1.3~wire')] = 1
    const view = viewOf(1, { x: 0, y: 0 })
    const { pixels } = paint(view, { ...bare, marks: { suspects: [], currentPerAmpere } })
    expect(count(pixels, packed(palettes.light.current))).toBeGreaterThan(3)
  })
})

describe('equipment', () => {
  it('is seen over the current that runs through it', () => {
    const bar = { x: -1.2, y: 16.6 }
    const currentPerAmpere = new Float32Array(index.jointCount).fill(1)
    const { at } = paint(viewOf(20, bar), { ...bare, marks: { suspects: [], currentPerAmpere } })
    // between the middle stud and the one beside it
    expect(at({ x: bar.x + 0.13, y: bar.y })).toBe(packed(palettes.light.equipment))
  })
})

describe('tables that are turned', () => {
  it('cover the same ground as upright ones', () => {
    const areaAt = (bearingDeg: number) => {
      const turned = drawingOf({ tableTypes: [typeOf({})], rows: [rowOf({ bearingDeg })] })
      const own = buildGeometry(indexOf(turned))
      const middle = {
        x: (own.boundsM.minX + own.boundsM.maxX) / 2,
        y: (own.boundsM.minY + own.boundsM.maxY) / 2,
      }
      const { pixels } = paint(viewOf(40, middle), bare, own)
      return pixels.length - count(pixels, packed(palettes.light.ground))
    }
    const upright = areaAt(90)
    expect(upright).toBeGreaterThan(3.4 * 2 * 1600)
    for (const bearingDeg of [0, 180, 270])
      expect(Math.abs(areaAt(bearingDeg) / upright - 1)).toBeLessThan(0.02)
    for (const bearingDeg of [20, 45, 133])
      expect(Math.abs(areaAt(bearingDeg) / upright - 1)).toBeLessThan(0.08)
  })
})

describe('joints that are absent', () => {
  it('are not painted', () => {
    const clamps = { perMember: 2 as const, kind: 'frameClamp' }
    const drawing = drawingOf({
      tableTypes: [typeOf({ frameBond: { clamps, links: null } })],
      rows: [rowOf({})],
    })
    const text = 'R1/T1/F1.2~L1.2'
    const without = drawingOf({
      ...drawing,
      differingJoints: [{ joint: text, change: 'absent', kind: null, medianOhm: null }],
    })
    const inkAt = (of: MapGeometry) => {
      const mark = jointPointM(of, jointIndexOf(of.index, parseJointAddress(text)!))
      return paint(viewOf(80, mark), bare, of).at(mark)
    }
    expect(inkAt(buildGeometry(indexOf(drawing)))).toBe(packed(palettes.light.joint))
    expect(inkAt(buildGeometry(indexOf(without)))).toBe(packed(palettes.light.member))
  })
})
