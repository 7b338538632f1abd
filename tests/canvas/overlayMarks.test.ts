import { describe, expect, it } from 'vitest'
import { buildGeometry } from '../../src/canvas/geometry.ts'
import { jointPointM, partPointM } from '../../src/canvas/markPoints.ts'
import { currentArrows, currentWays } from '../../src/canvas/overlayCurrents.ts'
import { readingEdges, readingNear, seenReadings } from '../../src/canvas/overlayEdges.ts'
import { outlineOf, rectOfPicked } from '../../src/canvas/overlayOutlines.ts'
import { scaleBar } from '../../src/canvas/overlayScale.ts'
import { pointOn } from '../../src/canvas/overlayCurves.ts'
import { jointIndexOf } from '../../src/layout/jointIndex.ts'
import { parseJointAddress } from '../../src/model/address.ts'
import { noMarks, partOf, type ReadingMark } from '../../src/state/mapMarks.ts'
import type { ReadingLook } from '../../src/state/readingLook.ts'
import { demoIndex } from './demoIndex.ts'

const geometry = buildGeometry(demoIndex('field'))
const { index } = geometry
const part = (address: string) => partOf(index, address)!
const jumper = jointIndexOf(index, parseJointAddress('R4/T6+T7~1')!)
const reading = (entry: string, from: string, to: string, look: ReadingLook = 'within'): ReadingMark => ({
  entry,
  from: part(from),
  to: part(to),
  look,
  label: '1 Ω',
  isPicked: false,
})
const view = { x: 40, y: 500, k: 10, widthPx: 1000, heightPx: 640, dpr: 1 }

describe('readings as edges', () => {
  it('begin and end where their parts are marked', () => {
    const [seen] = seenReadings(readingEdges(geometry, [reading('a', 'R1/T1/F1.1', 'R1/T4/F2.3')]), view)
    const from = partPointM(geometry, part('R1/T1/F1.1'))!
    const to = partPointM(geometry, part('R1/T4/F2.3'))!
    expect([seen.curve.x0, seen.curve.y0]).toEqual([40 + 10 * from.x, 500 - 10 * from.y])
    expect([seen.curve.x1, seen.curve.y1]).toEqual([40 + 10 * to.x, 500 - 10 * to.y])
  })

  it('of one pair lie in lanes, whichever way they were taken', () => {
    const pair = ['R1/T1/F1.1', 'R1/T4/F2.3'] as const
    const edges = readingEdges(geometry, [reading('a', ...pair), reading('b', pair[1], pair[0])])
    expect([...edges.lanes]).toEqual([0, 1])
    const [a, b] = seenReadings(edges, view)
    expect(
      Math.hypot(
        pointOn(a.curve, 0.5).x - pointOn(b.curve, 0.5).x,
        pointOn(a.curve, 0.5).y - pointOn(b.curve, 0.5).y,
      ),
    ).toBeGreaterThan(8)
  })

  it('out of sight are left out, and cut ends have no mark', () => {
    const edges = readingEdges(geometry, [reading('a', 'R1/T1/F1.1', 'R1/T8/F1.1')])
    const near = { ...view, x: -800, k: 100, y: 400 }
    const [seen] = seenReadings(edges, near)
    expect([seen.hasStart, seen.hasEnd]).toEqual([false, false])
    expect(seen.curve.x1 - seen.curve.x0).toBeLessThan(1600)
    expect(seenReadings(edges, { ...view, y: -4000 })).toEqual([])
  })

  it('dashes stay where they are while the view moves', () => {
    const edges = readingEdges(geometry, [reading('a', 'R1/T1/F1.1', 'R1/T8/F1.1', 'overRange')])
    const starts = [0, 3, 7, 16].map((shift) => {
      const [seen] = seenReadings(edges, { ...view, x: -800 - shift, k: 100, y: 400 })
      return (seen.curve.x0 + 800 + shift) % 20
    })
    // A whole number of periods of 20 px along the chord: the same place on the ground, to a fraction of a pixel.
    for (const start of starts) expect(Math.abs(start - starts[0]) % 20).toBeLessThan(0.8)
  })

  it('carry their mark in their middle, or in the middle of what is seen where that is out of sight', () => {
    const edges = readingEdges(geometry, [reading('a', 'R1/T1/F1.1', 'R1/T8/F1.1', 'investigate')])
    const [whole] = seenReadings(edges, view)
    expect([whole.middleAt, whole.isMiddleMoved]).toEqual([0.5, false])
    const [cut] = seenReadings(edges, { ...view, x: 40 - 500 })
    expect(cut.isMiddleMoved).toBe(true)
    const shifted = { ...view, x: 40 - 60 }
    const [kept] = seenReadings(edges, shifted)
    const [middle, wholeMiddle] = [pointOn(kept.curve, kept.middleAt!), pointOn(kept.whole, 0.5)]
    expect(kept.isMiddleMoved).toBe(false)
    expect(middle.x).toBeCloseTo(wholeMiddle.x, 6)
    expect(middle.y).toBeCloseTo(wholeMiddle.y, 6)
  })

  it('are found under the pointer, within its reach', () => {
    const seen = seenReadings(readingEdges(geometry, [reading('a', 'R1/T1/F1.1', 'R1/T8/F1.1')]), view)
    const middle = pointOn(seen[0].curve, 0.4)
    expect(readingNear(seen, { x: middle.x, y: middle.y + 4 }, 6)?.mark.entry).toBe('a')
    expect(readingNear(seen, { x: middle.x, y: middle.y + 9 }, 6)).toBeNull()
  })
})

describe('arrows of the current', () => {
  it('point from the first end to the second, and back where it flows back', () => {
    for (const sign of [1, -1]) {
      const perAmpere = new Float32Array(index.jointCount)
      perAmpere[jumper] = 0.5 * sign
      const at = jointPointM(geometry, jumper)
      const near = { ...view, k: 60, x: 500 - 60 * at.x, y: 320 + 60 * at.y }
      const [arrow] = currentArrows(currentWays(geometry, perAmpere), near)
      expect(arrow.towards.x * sign).toBeGreaterThan(0.9)
    }
  })

  it('are for joints that carry something, strongest first, apart from one another', () => {
    const perAmpere = new Float32Array(index.jointCount).fill(0.2)
    perAmpere[jumper] = -1
    const arrows = currentArrows(currentWays(geometry, perAmpere), { ...view, k: 40, x: -1200, y: 1000 })
    expect(arrows.length).toBeGreaterThan(20)
    expect(arrows.length).toBeLessThanOrEqual(160)
    expect(Math.max(...arrows.map(({ sizePx }) => sizePx))).toBe(arrows[0].sizePx)
    expect(currentWays(geometry, new Float32Array(index.jointCount)).perAmpere).toHaveLength(0)
  })
})

describe('what is chosen', () => {
  it('a module has its edge, a joint a ring, a table a margin around it', () => {
    const module = outlineOf(geometry, noMarks, { kind: 'part', address: 'R1/T1/F1.1' })
    expect(module).toMatchObject({ form: 'area' })
    const joint = outlineOf(geometry, noMarks, { kind: 'joint', address: 'R4/T6+T7~1' })
    expect(joint).toEqual({ form: 'spots', atM: [jointPointM(geometry, jumper)] })
    const table = outlineOf(geometry, noMarks, { kind: 'table', row: 1, table: 1 })
    if (table?.form !== 'area' || module?.form !== 'area') throw new Error('no areas')
    expect(table.cornersM[0].x).toBeCloseTo(module.cornersM[0].x - 0.25)
  })

  it('a group of suspects has a ring for each of its joints', () => {
    const suspects = [jumper, jumper - 1, 4].map((joint, i) => ({
      joint,
      probability: 0.3,
      rank: i < 2 ? 1 : 2,
      isPicked: false,
    }))
    const outline = outlineOf(geometry, { suspects }, { kind: 'suspect', joint: 'R4/T6+T7~1' })
    expect(outline?.form === 'spots' && outline.atM).toHaveLength(2)
  })

  it('what is not on the map has none', () => {
    for (const address of ['R99/T1/F1.1', 'earth', 'nonsense']) {
      expect(outlineOf(geometry, noMarks, { kind: 'part', address })).toBeNull()
    }
    expect(outlineOf(geometry, noMarks, { kind: 'table', row: 1, table: 999 })).toBeNull()
    expect(rectOfPicked(geometry, noMarks, { kind: 'reading', entry: 'none' })).toBeNull()
  })

  it('a reading is as large as its two ends are apart', () => {
    const marks = { ...noMarks, readings: [reading('a', 'R1/T1/F1.1', 'R1/T4/F2.3')] }
    const rect = rectOfPicked(geometry, marks, { kind: 'reading', entry: 'a' })!
    expect(rect.minX).toBeCloseTo(partPointM(geometry, part('R1/T1/F1.1'))!.x)
    expect(rect.maxY).toBeCloseTo(partPointM(geometry, part('R1/T4/F2.3'))!.y)
  })

  it('with others beside it the box holds all of them, but those that are not on the map', () => {
    const [at, other] = ['R4/T8/F2.5', 'R2/T3/F1.5'].map((address) => ({ kind: 'part', address }) as const)
    const alone = rectOfPicked(geometry, noMarks, at)!
    const both = rectOfPicked(geometry, noMarks, at, [other, { kind: 'part', address: 'R99/T1/F1.1' }])!
    const far = rectOfPicked(geometry, noMarks, other)!
    expect(both).toEqual({ minX: far.minX, minY: far.minY, maxX: alone.maxX, maxY: alone.maxY })
    expect(rectOfPicked(geometry, noMarks, { kind: 'part', address: 'R99/T1/F1.1' }, [at])).toBeNull()
  })
})

it.each([
  [10, 'metric', '10 m', 100],
  [1.2, 'metric', '50 m', 60],
  [400, 'metric', '20 cm', 80],
  [0.02, 'metric', '5 km', 100],
  [10, 'us', '20 ft', 60.96],
] as const)('the scale at %f px/m, %s, is %s', (pxPerM, units, text, widthPx) => {
  const bar = scaleBar(pxPerM, units)
  expect(bar.text).toBe(text)
  expect(bar.widthPx).toBeCloseTo(widthPx)
})
