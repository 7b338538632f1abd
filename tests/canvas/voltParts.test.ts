import { describe, expect, it } from 'vitest'
import { packed } from '../../src/canvas/colour.ts'
import { buildGeometry } from '../../src/canvas/geometry.ts'
import { levelOf } from '../../src/canvas/lod.ts'
import { partPointM } from '../../src/canvas/markPoints.ts'
import type { View } from '../../src/canvas/mapTypes.ts'
import { paintBase } from '../../src/canvas/paintBase.ts'
import { palettes, type Palette } from '../../src/canvas/palette.ts'
import { voltInks, voltSteps } from '../../src/canvas/voltSteps.ts'
import { partAddressAt, partKindAt } from '../../src/layout/partIndex.ts'
import {
  conductorEndCode,
  crossMemberCode,
  earthBarCode,
  electrodeCode,
  enclosureCode,
  longMemberCode,
  postCode,
} from '../../src/layout/partKinds.ts'
import type { SiteIndex } from '../../src/layout/siteIndex.ts'
import { writePartAddress } from '../../src/model/address.ts'
import { noMarks, type FaultMarks } from '../../src/state/mapMarks.ts'
import { contrastOf } from './colourSight.ts'
import { demoIndex } from './demoIndex.ts'

const sites = { field: demoIndex('field'), roof: demoIndex('roof'), tracker: demoIndex('tracker') }
const kinds = {
  longMember: longMemberCode,
  crossMember: crossMemberCode,
  post: postCode,
  enclosure: enclosureCode,
  earthBar: earthBarCode,
  electrode: electrodeCode,
  conductorEnd: conductorEndCode,
}

/** The first part of a kind on any of the demo sites, and of every form of electrode one. */
function examples(): readonly { kind: string; index: SiteIndex; part: number }[] {
  return Object.entries(sites).flatMap(([site, index]) => {
    const found = new Map<string, number>()
    for (let part = 0; part < index.partCount; part++) {
      const code = partKindAt(index, part)
      const name = Object.entries(kinds).find(([, value]) => value === code)?.[0]
      if (!name) continue
      const form = code === electrodeCode ? index.drawing.electrodes[part - index.electrodeStart].form : ''
      const key = `${name} ${form}`.trim()
      if (!found.has(key)) found.set(key, part)
    }
    return [...found].map(([key, part]) => ({ kind: `${key} of the ${site}`, index, part }))
  })
}

const side = 160
function painted(index: SiteIndex, part: number, k: number, volts: Float32Array, palette: Palette, dpr = 1) {
  const geometry = buildGeometry(index)
  const { x, y } = partPointM(geometry, part)!
  const middle = side / 2
  const view: View = { x: middle - k * x, y: middle + k * y, k, widthPx: side, heightPx: side, dpr }
  const size = side * dpr
  const raster = { width: size, height: size, pixels: new Uint32Array(size * size) }
  const fault: FaultMarks = {
    partV: volts,
    lossV: null,
    currentA: null,
    mostA: 0,
    at: part,
    second: null,
    person: null,
    altered: [],
    isPaused: false,
  }
  paintBase(raster, geometry, view, { palette, marks: { ...noMarks, fault } })
  return { pixels: raster.pixels, level: levelOf(k, geometry) }
}

function voltsAt(index: SiteIndex, part: number, volt: number): Float32Array {
  const volts = new Float32Array(index.partCount + 1)
  volts[part] = volt
  return volts
}
const count = (pixels: Uint32Array, ink: number) =>
  pixels.reduce((sum, each) => sum + Number(each === ink), 0)

describe('volts of what is no module', () => {
  const all = examples()
  it('are looked at for every kind of part that a demo site has', () => {
    const told = all.map(({ kind }) => kind.split(' ')[0])
    expect(new Set(told)).toEqual(new Set(Object.keys(kinds)))
  })

  describe.each(all)('$kind', ({ index, part }) => {
    it.each(Object.values(palettes))('have its colour near, in theme $name, at every step', (palette) => {
      voltSteps.forEach((step, k) => {
        for (const volt of [step, -step]) {
          const { pixels, level } = painted(index, part, 40, voltsAt(index, part, volt), palette)
          expect(level).toBe('joints')
          voltInks.forEach((ink, other) => {
            const seen = count(pixels, packed(palette[ink]))
            const where = `${writePartAddress(partAddressAt(index, part))} at ${volt} V: ${ink}`
            if (other === k) expect(seen, where).toBeGreaterThanOrEqual(4)
            else expect(seen, where).toBe(0)
          })
        }
      })
    })

    it('leave no colour below the first step, and none of another part', () => {
      const inks = voltInks.map((ink) => packed(palettes.light[ink]))
      const quiet = painted(index, part, 40, voltsAt(index, part, 0.99 * voltSteps[0]), palettes.light)
      for (const ink of inks) expect(count(quiet.pixels, ink)).toBe(0)
    })

    it('have it on a screen of two device pixels too', () => {
      const { pixels } = painted(index, part, 40, voltsAt(index, part, 60), palettes.dark, 2)
      expect(count(pixels, packed(palettes.dark.volt3))).toBeGreaterThanOrEqual(16)
    })
  })
})

describe('volts from far', () => {
  const index = sites.field
  const post = examples().find(({ kind }) => kind === 'post of the field')!.part
  it('of a post tint its table as those of a module do', () => {
    const { pixels, level } = painted(index, post, 2.2, voltsAt(index, post, 130), palettes.light)
    expect(level).toBe('tables')
    expect(count(pixels, packed(palettes.light.volt4))).toBeGreaterThan(20)
  })
})

describe('a long member', () => {
  const index = sites.field
  it('has the colour of each of its stations where a tap finds it, and the rim tells it from a module of the same volts', () => {
    const member = examples().find(({ kind }) => kind === 'longMember of the field')!.part
    const volts = voltsAt(index, member + 1, 5)
    volts[member + 2] = 200
    const { pixels } = painted(index, member + 1, 40, volts, palettes.light)
    const seen = (ink: number) => count(pixels, ink)
    expect(seen(packed(palettes.light.volt1))).toBeGreaterThan(10)
    expect(seen(packed(palettes.light.volt4))).toBeGreaterThan(10)
  })

  it.each(Object.values(palettes))('holds without hue, in theme $name', ({ member, label, ...palette }) => {
    // told from a member without by its rims, and every step but the last by a core that is not as dark, or light, as they
    expect(contrastOf(label, member)).toBeGreaterThan(1.5)
    for (const ink of voltInks.slice(0, -1)) expect(contrastOf(palette[ink], label), ink).toBeGreaterThan(1.5)
  })
})
