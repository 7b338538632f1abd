import { describe, expect, it } from 'vitest'
import { toolOf } from '../../../src/tools/draw/tools.ts'
import { smallSite } from './drawSite.ts'
import type { plainMaking } from './hand.ts'
import { Hand } from './hand.ts'

const handOf = (name: Parameters<typeof toolOf>[0], making: Partial<typeof plainMaking> = {}) =>
  new Hand(toolOf(name), smallSite()).making(making)

describe('equipment', () => {
  it('an earth bar stands where it is tapped', () => {
    const used = handOf('equipment', { equipment: 'earthBar' }).tap([50, -20])
    expect(used.site.drawing.earthBars.at(-1)).toEqual({ id: 2, label: '', atM: { x: 50, y: -20 } })
    expect(used.chosen).toEqual([{ sort: 'earthBar', id: 2 }])
    expect(used.owns([50, -20])).toBe(false)
  })

  it('an enclosure of the typed size by a tap, counted up', () => {
    const used = handOf('equipment').click([50, -20])
    expect(used.site.drawing.enclosures.at(-1)).toEqual({
      id: 2,
      label: 'Box 2',
      atM: { x: 50, y: -20 },
      widthM: 1,
      depthM: 0.5,
      bearingDeg: 0,
    })
    expect(used.edits).toBe(1)
  })

  it('an enclosure from corner to corner by a drag, in its own direction', () => {
    const drag = [
      [50, -20],
      [53, -18],
    ] as const
    const used = handOf('equipment').drag(...drag)
    expect(used.site.drawing.enclosures.at(-1)).toMatchObject({
      atM: { x: 51.5, y: -19 },
      widthM: 3,
      depthM: 2,
    })
    const turned = handOf('equipment', { enclosure: { widthM: 1, depthM: 1, bearingDeg: 90 } }).drag(...drag)
    expect(turned.site.drawing.enclosures.at(-1)).toMatchObject({ widthM: 2, depthM: 3, bearingDeg: 90 })
  })

  it('shows where it would stand, also with the typed size where the drag is too small', () => {
    const used = handOf('equipment').hover([50, -20])
    expect(used.told).toEqual({ fact: 'size', widthM: 1, depthM: 0.5 })
    expect(used.preview!.outlines).toEqual([
      [
        { x: 49.5, y: -20.25 },
        { x: 50.5, y: -20.25 },
        { x: 50.5, y: -19.75 },
        { x: 49.5, y: -19.75 },
      ],
    ])
    expect(used.pull([50, -20], [53, -20.01]).told).toEqual({ fact: 'size', widthM: 1, depthM: 0.5 })
    expect(used.cancel().done).toEqual([])
  })
})

describe('an electrode', () => {
  it.each([
    ['rod', { form: 'rod', lengthM: 2.4, diameterM: 0.016 }],
    ['plate', { form: 'plate', areaM2: 0.5, depthM: 1 }],
  ] as const)('a %s stands where it is tapped', (electrode, made) => {
    const used = handOf('electrode', { electrode }).tap([50, -20])
    expect(used.site.drawing.electrodes.at(-1)).toEqual({
      id: 2,
      label: 'G 2',
      measuredOhm: null,
      atM: { x: 50, y: -20 },
      ...made,
    })
    expect(used.owns([50, -20])).toBe(false)
  })

  it('a strip is drawn point by point', () => {
    const used = handOf('electrode', { electrode: 'strip' })
      .tap([50, -20])
      .tap([60, -20])
      .tap([60, -30])
      .finish()
    expect(used.edits).toBe(1)
    expect(used.site.drawing.electrodes.at(-1)).toMatchObject({
      form: 'strip',
      closed: false,
      diameterM: 0.01,
      pathM: [
        { x: 50, y: -20 },
        { x: 60, y: -20 },
        { x: 60, y: -30 },
      ],
    })
  })

  it('a ring comes back to its first point', () => {
    const used = handOf('electrode', { electrode: 'ring' }).tap([50, -20]).tap([60, -20]).tap([60, -30])
    expect(used.preview!.lines[0].at(-1)).toEqual({ x: 50, y: -20 })
    used.tap([50.05, -20])
    expect(used.site.drawing.electrodes.at(-1)).toMatchObject({ form: 'strip', closed: true })
    const { form, ...ring } = used.site.drawing.electrodes.at(-1)!
    expect(form === 'strip' && 'pathM' in ring && ring.pathM).toHaveLength(3)
  })
})

describe('the ground', () => {
  it('an aisle is drawn by a drag and more taps', () => {
    const used = handOf('ground').drag([50, -20], [60, -20]).tap([60, -30]).tap([60, -30])
    expect(used.edits).toBe(1)
    expect(used.site.drawing.aisles.at(-1)).toEqual({
      id: 2,
      pathM: [
        { x: 50, y: -20 },
        { x: 60, y: -20 },
        { x: 60, y: -30 },
      ],
    })
  })

  it('an obstacle is an outline of three points or more', () => {
    const used = handOf('ground', { ground: 'obstacle' }).tap([50, -20]).tap([60, -20])
    expect(used.finish().told).toEqual({ fact: 'refused', reason: 'tooShort' })
    used.tap([60, -30]).tap([50, -20])
    expect(used.edits).toBe(1)
    expect(used.site.drawing.obstacles.at(-1)!.outlineM).toHaveLength(3)
    expect(used.chosen).toEqual([{ sort: 'obstacle', id: 2 }])
  })
})

describe('a metal path between two parts', () => {
  it.each<[string, (hand: Hand<unknown>) => Hand<unknown>]>([
    ['two clicks', (hand) => hand.click([20, 1]).click([20, -5])],
    ['two taps', (hand) => hand.tap([20, 1]).tap([20, -5])],
    ['a drag', (hand) => hand.drag([20, 1], [20, -5])],
    ['a drag after a tap elsewhere', (hand) => hand.tap([0.5, 1]).drag([20, 1], [20, -5])],
  ])('is made by %s', (_, join) => {
    const used = join(handOf('joint'))
    expect(used.edits).toBe(1)
    expect(used.site.drawing.extraJoints).toEqual([
      { id: 1, label: '', from: 'E1', to: 'B1', kind: 'jumper', medianOhm: null },
    ])
    expect(used.state).toBe(toolOf('joint').idle)
  })

  it('needs two parts that differ, and keeps the first', () => {
    const used = handOf('joint').tap([20, 1])
    expect(used.tap([20, 1]).told).toEqual({ fact: 'refused', reason: 'samePart' })
    expect(used.tap([50, 50]).told).toEqual({ fact: 'refused', reason: 'noPart' })
    expect(used.drag([20, 1], [50, 50]).told).toEqual({ fact: 'refused', reason: 'noPart' })
    expect(used.hover([20, -5]).told).toEqual({ fact: 'land', part: 'B1' })
    expect(used.tap([20, -5]).edits).toBe(1)
  })

  it('is given up', () => {
    const used = handOf('joint').tap([20, 1]).hover([30, 3])
    expect(used.preview!.lines).toEqual([
      [
        { x: 20, y: 1 },
        { x: 30, y: 3 },
      ],
    ])
    expect(used.back().state).toBe(toolOf('joint').idle)
    expect(used.tap([20, 1]).cancel().state).toBe(toolOf('joint').idle)
    expect(used.done).toEqual([])
  })

  it('a drag that is broken off leaves what was tapped', () => {
    const used = handOf('joint').tap([20, 1]).pull([0.5, 1], [20, -5]).leave().tap([20, -5])
    expect(used.site.drawing.extraJoints).toMatchObject([{ from: 'E1', to: 'B1' }])
  })
})

describe('a distance', () => {
  it('is measured from tap to tap, leg by leg, and stays in sight', () => {
    const used = handOf('distance').tap([50, -20]).hover([53, -16])
    expect(used.told).toMatchObject({ fact: 'distance', lengthM: 5, totalM: 5 })
    used.tap([53, -16]).hover([53, -10])
    expect(used.told).toEqual({ fact: 'distance', lengthM: 6, bearingDeg: 0, totalM: 11 })
    used.tap([53, -10]).finish().hover([70, 70])
    expect(used.told).toEqual({ fact: 'distance', lengthM: 6, bearingDeg: 0, totalM: 11 })
    expect(used.leave().told).toMatchObject({ totalM: 11 })
    expect(used.cancel().state).toBe(toolOf('distance').idle)
    expect(used.preview).toBe(null)
    expect(used.done).toEqual([])
  })

  it('is measured by a drag, and the next one begins anew', () => {
    const used = handOf('distance').drag([50, -20], [50, -30])
    expect(used.told).toMatchObject({ lengthM: 10, bearingDeg: 180, totalM: 10 })
    used.finish().drag([0, -20], [3, -20])
    expect(used.told).toMatchObject({ lengthM: 3, bearingDeg: 90, totalM: 3 })
  })
})
