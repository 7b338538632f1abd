import { describe, expect, it } from 'vitest'
import { buildGeometry } from '../../src/canvas/geometry.ts'
import { legendOf } from '../../src/canvas/legend.ts'
import { paintBase } from '../../src/canvas/paintBase.ts'
import { palettes } from '../../src/canvas/palette.ts'
import { drawFault } from '../../src/canvas/overlayFault.ts'
import { SvgContext } from '../../src/canvas/svgContext.ts'
import { SvgSheet } from '../../src/canvas/svgSheet.ts'
import { packed } from '../../src/canvas/colour.ts'
import { partPointM } from '../../src/canvas/markPoints.ts'
import { voltClass, voltInks, voltSteps } from '../../src/canvas/voltSteps.ts'
import { voltTints } from '../../src/canvas/voltTints.ts'
import { toScreen } from '../../src/canvas/mapTypes.ts'
import { partIndexOf } from '../../src/layout/partIndex.ts'
import { parsePartAddress } from '../../src/model/address.ts'
import { noMarks, type FaultMarks } from '../../src/state/mapMarks.ts'
import { contrastOf, lightnessOf } from './colourSight.ts'
import { demoIndex } from './demoIndex.ts'

const index = demoIndex('field')
const geometry = buildGeometry(index)
const partAt = (text: string) => partIndexOf(index, parsePartAddress(text)!)
const frame = partAt('R3/T1/F2.5')
const nothing: FaultMarks = {
  partV: null,
  lossV: null,
  currentA: null,
  mostA: 0,
  at: frame,
  second: null,
  person: null,
  altered: [],
  isPaused: false,
}
function voltsAt(part: number, volt: number): Float32Array {
  const volts = new Float32Array(index.partCount + 1)
  volts[part] = volt
  return volts
}

describe('steps of volts', () => {
  it('begin at a volt, ask for no sign, and rise', () => {
    expect(voltClass(0)).toBe(0)
    expect(voltClass(0.99)).toBe(0)
    voltSteps.forEach((step, k) => {
      expect(voltClass(step)).toBe(k + 1)
      expect(voltClass(-step)).toBe(k + 1)
      expect(voltClass(0.999 * step)).toBe(k)
    })
    expect(voltClass(980)).toBe(voltSteps.length)
  })

  it.each(Object.values(palettes))(
    'have colours in theme $name whose lightness goes one way, well apart',
    (palette) => {
      const light = voltInks.map((ink) => lightnessOf(palette[ink]))
      const rise = Math.sign(light[4] - light[0])
      for (let k = 1; k < light.length; k++) expect(rise * (light[k] - light[k - 1])).toBeGreaterThan(7)
      // away from what is not tinted, the further the more volts
      const apart = voltInks.map((ink) => contrastOf(palette[ink], palette.ground))
      expect(apart[4]).toBeGreaterThan(apart[0])
    },
  )
})

describe('volts on the map', () => {
  const view = (k: number) => {
    const { x, y } = partPointM(geometry, frame)!
    return { x: 100 - k * x, y: 100 + k * y, k, widthPx: 200, heightPx: 200, dpr: 1 }
  }
  const pixelAt = (k: number, marks: Partial<FaultMarks>, part: number) => {
    const raster = { width: 200, height: 200, pixels: new Uint32Array(200 * 200) }
    paintBase(raster, geometry, view(k), {
      palette: palettes.light,
      marks: { ...noMarks, fault: { ...nothing, ...marks } },
    })
    const { x, y } = toScreen(view(k), partPointM(geometry, part)!)
    // beside the middle, where a member may lie
    return raster.pixels[Math.round(y + 0.12 * k) * 200 + Math.round(x + 0.12 * k)]
  }
  const inks = voltInks.map((ink) => packed(palettes.light[ink]))

  it('tint the frame that stands at them, and no other', () => {
    const partV = voltsAt(frame, 300)
    expect(pixelAt(40, { partV }, frame)).toBe(inks[3])
    expect(inks).not.toContain(pixelAt(40, { partV }, partAt('R3/T1/F2.6')))
    expect(inks).not.toContain(pixelAt(40, { partV: voltsAt(frame, 0.5) }, frame))
  })

  it('tint a whole table from far, by the most that is in it', () => {
    const tints = voltTints(geometry, { ...nothing, partV: voltsAt(frame, -12) })!
    expect(tints.tables.filter((found) => found > 0)).toEqual(Uint8Array.of(2))
    expect(pixelAt(2.2, { partV: voltsAt(frame, -12) }, frame)).toBe(inks[1])
  })

  it('of another drawing are not shown', () => {
    expect(voltTints(geometry, { ...nothing, partV: new Float32Array(3) })).toBeNull()
    expect(voltTints(geometry, null)).toBeNull()
  })
})

describe('the legend of a fault', () => {
  const legend = (fault: FaultMarks) =>
    legendOf('joints', { palette: palettes.light, marks: { ...noMarks, fault } }, geometry)
  it('has amperes at the widths of the map, volts by steps, and what stands on it', () => {
    const currentA = new Float32Array(index.jointCount)
    const entries = legend({ ...nothing, partV: voltsAt(frame, 5), currentA, mostA: 20, second: frame + 1 })
    const entry = (key: string) => entries.find((each) => each.key === key)
    expect(
      entry('faultCurrent')!
        .steps.map(({ value }) => value)
        .at(-1),
    ).toBe(20)
    expect(entry('faultVolts')!.steps.map(({ value }) => value)).toEqual([...voltSteps])
    expect(entries.map(({ key }) => key)).toEqual(expect.arrayContaining(['faultPlace', 'secondFault']))
    expect(entry('lostVolts')).toBeUndefined()
    expect(entry('current')).toBeUndefined()
  })

  it('says nothing of amperes where none flow', () => {
    expect(legend(nothing).map(({ key }) => key)).not.toContain('faultCurrent')
  })
})

describe('a fault in a picture', () => {
  it('is drawn as shapes too: place, second place, person, changed joint', () => {
    const sheet = new SvgSheet(400, 300)
    const measure = { font: '', measureText: () => ({ width: 10 }) as TextMetrics }
    const context = new SvgContext(sheet, measure).asContext()
    const all = {
      ...nothing,
      second: partAt('R3/T1/F2.6'),
      person: { hand: frame, other: partAt('R3/T1/F1.1') },
      altered: [5],
    }
    const { x, y } = partPointM(geometry, frame)!
    expect(() =>
      drawFault(
        context,
        geometry,
        all,
        { x: 200 - 20 * x, y: 150 + 20 * y, k: 20, widthPx: 400, heightPx: 300, dpr: 1 },
        palettes.light,
      ),
    ).not.toThrow()
    expect(JSON.stringify(sheet)).not.toContain('NaN')
  })
})
