import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { packed } from '../../src/canvas/colour.ts'
import { drawSights } from '../../src/canvas/drawSights.ts'
import { buildGeometry } from '../../src/canvas/geometry.ts'
import { legendOf } from '../../src/canvas/legend.ts'
import type { View } from '../../src/canvas/mapTypes.ts'
import { jointPointM } from '../../src/canvas/markPoints.ts'
import { palettes, type Palette } from '../../src/canvas/palette.ts'
import { sightOf } from '../../src/canvas/sight.ts'
import { sightMarks, tableShares, type SightForm } from '../../src/canvas/sightMarks.ts'
import { sightTints, sightsIn } from '../../src/canvas/sightTints.ts'
import { bodySort, soilSort } from '../../src/layout/jointPlaces.ts'
import { sights, type Sight } from '../../src/model/planning.ts'
import { contrastOf, lightnessOf } from './colourSight.ts'
import { demoIndex } from './demoIndex.ts'

const geometry = buildGeometry(demoIndex('field'))
const { index } = geometry
const numberOf = (name: Sight) => sights.indexOf(name)
const allAre = (name: Sight) => new Uint8Array(index.jointCount).fill(numberOf(name))

function painted(view: View, sight: Uint8Array, palette: Palette = palettes.light): Uint32Array {
  const [width, height] = [view.widthPx * view.dpr, view.heightPx * view.dpr]
  const raster = { width, height, pixels: new Uint32Array(width * height) }
  drawSights(sightOf(raster, geometry, view, palette), geometry, sightTints(geometry, sight)!)
  return raster.pixels
}

/** A view with a joint of the first table in its middle. */
function viewAt(joint: number, k: number): View {
  const { x, y } = jointPointM(geometry, joint)
  return { x: 20 - k * x, y: 20 + k * y, k, widthPx: 40, heightPx: 40, dpr: 1 }
}

const firstDrawn = geometry.types[0]!.jointSort.findIndex((sort) => sort !== bodySort && sort !== soilSort)

describe('marks of joints', () => {
  it('differ in shape, not only in colour: in one ink no two of them are the same', () => {
    const grey: Palette = { ...palettes.light, shown: '#000000', compared: '#000000', hidden: '#000000' }
    const names = sights.filter((name) => name !== 'cannotFail')
    const pictures = names.map((name) => painted(viewAt(firstDrawn, 60), allAre(name), grey).join())
    expect(new Set(pictures).size).toBe(names.length)
  })

  it('are not drawn of what cannot fail', () => {
    expect(painted(viewAt(firstDrawn, 60), allAre('cannotFail')).every((pixel) => pixel === 0)).toBe(true)
  })

  it('further away keep shown, compared and hidden apart, and all that is hidden alike', () => {
    const at = (name: Sight) => painted(viewAt(firstDrawn, 9), allAre(name)).join()
    expect(new Set(['criterion', 'comparison', 'addPair'].map((name) => at(name as Sight))).size).toBe(3)
    for (const name of ['noAccess', 'finerKit', 'parallelPaths'] as const)
      expect(at(name)).toBe(at('addPair'))
  })

  it('cover no more than a little of the mark beside them', () => {
    for (const pieces of Object.values(sightMarks)) {
      for (const piece of pieces) {
        const reach = 'disc' in piece ? piece.disc : Math.hypot(piece.box[2], piece.box[3])
        expect(reach).toBeLessThanOrEqual(1.8)
      }
    }
  })
})

describe('tables from far', () => {
  it('are full, dashed or empty by the share of their joints that would show', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (share) => {
        const { pattern, jointSort } = geometry.types[0]!
        const counted = [...jointSort.keys()].filter(
          (j) => jointSort[j] !== bodySort && jointSort[j] !== soilSort && !geometry.absentJoints.has(j),
        )
        const shown = Math.round(share * counted.length)
        const sight = allAre('parallelPaths')
        for (const j of counted.slice(0, shown)) sight[j] = numberOf('criterion')
        const tints = sightTints(geometry, sight)!
        const expected =
          shown === counted.length
            ? 'all'
            : shown === 0
              ? 'none'
              : 2 * shown >= counted.length
                ? 'most'
                : 'few'
        expect(tableShares[tints.tables[0] % 4]).toBe(expected)
        expect(pattern.jointCount).toBeGreaterThanOrEqual(counted.length)
      }),
      { seed: 3 },
    )
  })

  it('have more ink the more of them would show', () => {
    const { minX, maxY } = geometry.boundsM
    const k = 2.2
    const view: View = { x: 20 - k * minX, y: 20 + k * maxY, k, widthPx: 300, heightPx: 240, dpr: 1 }
    const ink = (share: number) => {
      const sight = allAre('noAccess')
      for (let j = 0; j < sight.length; j++) {
        if ((j * 7919) % 100 < 100 * share) sight[j] = numberOf('criterion')
      }
      return painted(view, sight).filter((pixel) => pixel === packed(palettes.light.shown)).length
    }
    const inks = [0, 0.2, 0.8, 1].map(ink)
    for (let k = 1; k < inks.length; k++) expect(inks[k]).toBeGreaterThan(inks[k - 1])
  })

  it('leave sights of another drawing alone', () => {
    expect(sightTints(geometry, new Uint8Array(3))).toBeNull()
    expect(sightTints(geometry, null)).toBeNull()
  })
})

describe('the legend', () => {
  const entriesOf = (level: Parameters<typeof legendOf>[0], sight: Uint8Array | null) =>
    legendOf(
      level,
      { palette: palettes.light, marks: { suspects: [], currentPerAmpere: null, sights: sight } },
      geometry,
    )
      .map(({ key }) => key)
      .filter((key) => /^(seen|hidden|table[A-Z])/.test(key))

  it('has exactly the marks that are drawn at a level', () => {
    const some = allAre('criterion')
    some[5] = numberOf('finerKit')
    some[6] = numberOf('addPair')
    some[7] = numberOf('cannotFail')
    expect(sightsIn(some)).toEqual(['criterion', 'addPair', 'finerKit', 'cannotFail'])
    expect(entriesOf('joints', some)).toEqual(['seenByCriterion', 'hiddenAddPair', 'hiddenFinerKit'])
    expect(entriesOf('members', some)).toEqual(['seenByCriterion', 'hiddenAny'])
    expect(entriesOf('frames', some)).toEqual(['tableAll', 'tableMost', 'tableFew', 'tableNone'])
    expect(entriesOf('joints', null)).toEqual([])
  })
})

describe.each(Object.values(palettes))('theme $name', (palette) => {
  it('has marks that stand out from modules and rims, and inks that differ in lightness', () => {
    for (const ink of [palette.shown, palette.compared, palette.hidden]) {
      expect(contrastOf(ink, palette.halo)).toBeGreaterThanOrEqual(3)
    }
    expect(contrastOf(palette.shown, palette.module)).toBeGreaterThanOrEqual(3)
    expect(contrastOf(palette.shown, palette.tableEmpty)).toBeGreaterThanOrEqual(4.5)
    expect(contrastOf(palette.hidden, palette.tableEmpty)).toBeGreaterThanOrEqual(3)
    expect(Math.abs(lightnessOf(palette.shown) - lightnessOf(palette.compared))).toBeGreaterThan(12)
  })
})

it('every form has a mark', () => {
  const forms: readonly SightForm[] = [
    'criterion',
    'comparison',
    'addPair',
    'noAccess',
    'finerKit',
    'parallelPaths',
    'hidden',
  ]
  for (const form of forms) expect(sightMarks[form].length).toBeGreaterThan(0)
})
