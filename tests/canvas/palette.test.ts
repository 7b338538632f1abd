import { describe, expect, it } from 'vitest'
import { palettes, suspectColour, type Palette } from '../../src/canvas/palette.ts'
import { contrastOf, dichromats, distanceOf, lightnessOf, linearOf, seenBy } from './colourSight.ts'

/** What must be told apart wherever they meet. */
function telling(palette: Palette): Record<string, string> {
  const { ground, module, conductor, current, suspectHigh, selection } = palette
  return { ground, module, conductor, current, suspectHigh, selection }
}

describe('the measures themselves', () => {
  it('agree with known values', () => {
    expect(contrastOf('#000000', '#ffffff')).toBeCloseTo(21, 10)
    expect(contrastOf('#767676', '#ffffff')).toBeCloseTo(4.54, 2)
    expect(lightnessOf('#ffffff')).toBeCloseTo(100, 2)
    expect(lightnessOf('#777777')).toBeCloseTo(50.03, 1)
  })

  it.each(Object.entries(dichromats))(
    '%s leaves greys as they are and merges red with green',
    (_, matrix) => {
      for (const row of matrix) expect(row[0] + row[1] + row[2]).toBeCloseTo(1, 5)
      const [red, green] = [linearOf('#c03030'), linearOf('#5f7a20')]
      expect(distanceOf(seenBy(matrix, red), seenBy(matrix, green))).toBeLessThan(distanceOf(red, green) / 2)
    },
  )
})

describe.each(Object.values(palettes))('theme $name', (palette) => {
  it('shows what must be found at 3 : 1 or better against what lies below', () => {
    const { ground, module, halo } = palette
    const pairs: [string, string][] = [
      [palette.tableFar, ground],
      [palette.tableEdge, ground],
      [palette.conductor, ground],
      [palette.conductor, halo],
      [palette.equipment, ground],
      [palette.equipment, palette.equipmentFill],
      [palette.member, module],
      [palette.post, module],
      [palette.joint, module],
      [palette.current, module],
      [palette.current, halo],
      [palette.current, ground],
      [palette.suspectHigh, module],
      [palette.suspectHigh, ground],
      [palette.suspectLow, ground],
      [palette.suspectLow, halo],
      [palette.selection, ground],
      [palette.selection, module],
      [palette.link, ground],
      [palette.link, module],
    ]
    for (const [over, under] of pairs) {
      expect(contrastOf(over, under), `${over} on ${under}`).toBeGreaterThanOrEqual(3)
    }
  })

  it('writes labels at 7 : 1 and draws readings at 4.5 : 1 on ground, 3 : 1 on modules', () => {
    expect(contrastOf(palette.label, palette.labelPlate)).toBeGreaterThanOrEqual(7)
    for (const [look, colour] of Object.entries(palette.readings)) {
      expect(contrastOf(colour, palette.ground), look).toBeGreaterThanOrEqual(4.5)
      expect(contrastOf(colour, palette.module), look).toBeGreaterThanOrEqual(3)
    }
  })

  it('tells the sorts of things apart for eyes without red or without green cones', () => {
    const colours = Object.entries(telling(palette))
    for (const matrix of Object.values(dichromats)) {
      for (const [i, [one, a]] of colours.entries()) {
        for (const [other, b] of colours.slice(i + 1)) {
          const distance = distanceOf(seenBy(matrix, linearOf(a)), seenBy(matrix, linearOf(b)))
          expect(distance, `${one} and ${other}`).toBeGreaterThan(15)
        }
      }
    }
  })

  it('shades suspicion in one direction only, away from the ground', () => {
    const lightness = [0, 0.01, 0.05, 0.2, 0.5, 0.8, 1].map((p) => lightnessOf(suspectColour(palette, p)))
    const direction = palette.name === 'dark' ? 1 : -1
    for (let i = 1; i < lightness.length; i++) {
      expect(direction * (lightness[i] - lightness[i - 1])).toBeGreaterThan(0)
    }
    expect(Math.abs(lightness[lightness.length - 1] - lightness[0])).toBeGreaterThan(15)
  })
})

it('the theme for sunlight has the highest contrast', () => {
  const { sunlight, light } = palettes
  for (const key of ['tableEdge', 'conductor', 'equipment', 'current', 'suspectHigh', 'label'] as const) {
    const own = contrastOf(sunlight[key], sunlight.ground)
    expect(own, key).toBeGreaterThanOrEqual(contrastOf(light[key], light.ground))
    expect(own, key).toBeGreaterThanOrEqual(9)
  }
})
