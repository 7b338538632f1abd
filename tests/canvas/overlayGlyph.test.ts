import { describe, expect, it } from 'vitest'
import { drawReadingSample, drawReadings, lookStyles } from '../../src/canvas/readingGlyph.ts'
import type { ReadingLook } from '../../src/state/readingLook.ts'
import { recordingContext, type Painted } from './recordingContext.ts'

const looks = Object.keys(lookStyles) as ReadingLook[]
const inks = { line: '#000000', halo: '#ffffff' }

function sample(look: ReadingLook, halo: string | null = '#ffffff'): Painted[] {
  const { context, painted } = recordingContext()
  drawReadingSample(context, look, { widthPx: 72, heightPx: 20 }, { line: '#000000', halo })
  return painted
}

/** What is left of a picture when every colour is the same. */
const shape = (painted: readonly Painted[]) => JSON.stringify(painted.map(({ ink: _, ...rest }) => rest))

const lineOf = (painted: readonly Painted[]) =>
  painted.find(({ by, ink, path }) => by === 'stroke' && ink === '#000000' && path[0].startsWith('moveTo'))!

describe('the looks of a reading', () => {
  it('differ by path, dash or width from one another, all in one colour', () => {
    const shapes = looks.map((look) => shape(sample(look)))
    expect(new Set(shapes).size).toBe(looks.length)
  })

  it('differ without their rims too, as a list may draw them', () => {
    const shapes = looks.map((look) => shape(sample(look, null)))
    expect(new Set(shapes).size).toBe(looks.length)
  })

  it('over range is dashed with an open ring at each end', () => {
    const painted = sample('overRange')
    expect(lineOf(painted).dash).toEqual([13, 7])
    const rings = painted.filter(
      ({ by, path, ink }) => by === 'stroke' && path[0].startsWith('arc') && ink === '#000000',
    )
    expect(rings).toHaveLength(2)
    expect(
      painted.some(({ by, path, ink }) => by === 'fill' && path[0].startsWith('arc') && ink === '#000000'),
    ).toBe(false)
  })

  it('within has a filled dot at each end', () => {
    const dots = sample('within').filter(({ by, ink }) => by === 'fill' && ink === '#000000')
    expect(dots).toHaveLength(2)
  })

  it('no metal path is two lines, each broken in its middle', () => {
    const { path } = lineOf(sample('noMetalPath'))
    const starts = path.filter((step) => step.startsWith('moveTo'))
    expect(starts).toHaveLength(4)
    expect(new Set(starts.map((step) => step.split(' ')[2])).size).toBe(2)
    const xs = path.flatMap((step) =>
      step
        .split(' ')
        .slice(1)
        .map(Number)
        .filter((_, i) => i % 2 === 0),
    )
    expect(xs.some((x) => x > 28 && x < 44)).toBe(false)
  })

  it('investigate is the thickest line, set aside the faintest and without any mark', () => {
    const widths = looks.map((look) => lookStyles[look].widthPx)
    expect(Math.max(...widths)).toBe(lookStyles.investigate.widthPx)
    expect(Math.min(...widths)).toBe(lookStyles.setAside.widthPx)
    expect(sample('setAside', null)).toHaveLength(1)
  })

  it('ends and middle out of sight are not drawn', () => {
    const { context, painted } = recordingContext()
    const curve = { x0: 0, y0: 0, cx: 50, cy: 0, x1: 100, y1: 0 }
    drawReadings(context, 'investigate', [{ curve, hasStart: false, hasEnd: false, middleAt: null }], inks)
    expect(painted).toHaveLength(2)
  })
})
