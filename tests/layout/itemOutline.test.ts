import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { itemAnchorsM, tableAnchorsM } from '../../src/layout/itemAnchors.ts'
import { boxOfItems, isInside, itemBoxM, itemsInBox } from '../../src/layout/itemBox.ts'
import { itemOutlineM } from '../../src/layout/itemOutline.ts'
import { partPositionM } from '../../src/layout/positions.ts'
import { boxBetween } from '../../src/model/boxM.ts'
import { allDrawn } from '../../src/model/drawnItem.ts'
import type { DrawnItem } from '../../src/model/drawnItem.ts'
import type { PointM } from '../../src/model/schema/primitives.ts'
import { exampleSite } from '../model/exampleSite.ts'
import { anyDrawing } from './anyDrawing.ts'
import { drawingOf, indexOf, modulesOf, railOf, rowOf, typeOf } from './smallDrawings.ts'

const nine = (m: number) => Number(m.toFixed(9)) + 0
const rounded = ({ x, y }: PointM) => [nine(x), nine(y)]
const corners = (points: readonly PointM[] | undefined) => points?.map(rounded)

const high = typeOf({
  id: 'high',
  modules: modulesOf({ high: 2 }),
  longMembers: [railOf({ carries: [1, 2] })],
})
const turned = (bearingDeg: number) =>
  indexOf(
    drawingOf({
      tableTypes: [typeOf({}), high],
      rows: [
        rowOf({
          id: 4,
          originM: { x: 100, y: 50 },
          bearingDeg,
          runs: [
            { firstTable: 9, count: 2, type: 'plain' },
            { firstTable: 1, count: 1, type: 'high' },
          ],
        }),
      ],
    }),
  )
const row: DrawnItem = { sort: 'row', id: 4 }
const example = indexOf(exampleSite().drawing)

describe('the outline', () => {
  // Three tables of 3.4 m, 0.3 m apart; the higher type is 4.1 m up.
  it.each([
    [
      90,
      [
        [100, 50],
        [110.8, 50],
        [110.8, 54.1],
        [100, 54.1],
      ],
    ],
    [
      0,
      [
        [100, 50],
        [100, 60.8],
        [95.9, 60.8],
        [95.9, 50],
      ],
    ],
    [
      180,
      [
        [100, 50],
        [100, 39.2],
        [104.1, 39.2],
        [104.1, 50],
      ],
    ],
  ])('of a row at %i° goes round all its tables, as high as the highest', (bearingDeg, expected) => {
    const outline = itemOutlineM(turned(bearingDeg), row)
    expect(outline).toMatchObject({ isClosed: true, isArea: true })
    expect(corners(outline?.pointsM)).toEqual(expected)
  })

  it('of an enclosure is turned with it, its depth along its bearing', () => {
    const at = (bearingDeg: number) => {
      const enclosure = { id: 1, label: '', atM: { x: 5, y: 6 }, widthM: 4, depthM: 2, bearingDeg }
      return itemBoxM(indexOf(drawingOf({ enclosures: [enclosure] })), { sort: 'enclosure', id: 1 })!
    }
    const sides = (bearingDeg: number) => Object.values(at(bearingDeg)).map(nine)
    expect(sides(0)).toEqual([3, 5, 7, 7])
    expect(sides(90)).toEqual([4, 4, 6, 8])
    expect(sides(45)).toEqual(
      [5 - 1.5 * Math.SQRT2, 6 - 1.5 * Math.SQRT2, 5 + 1.5 * Math.SQRT2, 6 + 1.5 * Math.SQRT2].map(nine),
    )
  })

  it('of bars, rods and plates lies around their place, a path is itself', () => {
    expect(itemBoxM(example, { sort: 'earthBar', id: 1 })).toEqual({
      minX: -3.32,
      minY: 2.94,
      maxX: -2.68,
      maxY: 3.06,
    })
    const plate = itemBoxM(example, { sort: 'electrode', id: 2 })!
    expect((plate.maxX - plate.minX) * (plate.maxY - plate.minY)).toBeCloseTo(0.5, 9)
    const ring = itemOutlineM(example, { sort: 'electrode', id: 3 })!
    expect(ring).toMatchObject({ isClosed: true, isArea: false })
    expect(ring.pointsM).toHaveLength(3)
    expect(itemOutlineM(example, { sort: 'conductor', id: 1 })).toMatchObject({
      isClosed: false,
      isArea: false,
    })
    expect(itemOutlineM(example, { sort: 'obstacle', id: 1 })).toMatchObject({ isClosed: true, isArea: true })
  })

  it('is there for every drawn thing and for no other', () => {
    for (const item of allDrawn(example.drawing)) expect(itemOutlineM(example, item)).not.toBeNull()
    for (const { sort } of allDrawn(example.drawing)) {
      expect(itemOutlineM(example, { sort, id: 77 })).toBeNull()
      expect(itemAnchorsM(example, { sort, id: 77 })).toEqual([])
    }
    expect(tableAnchorsM(example, 77, { x: 0, y: 0 })).toEqual([])
  })

  it('of a row holds all its parts, in any drawing', () => {
    fc.assert(
      fc.property(anyDrawing, (drawing) => {
        const index = indexOf(drawing)
        const box = boxOfItems(index, allDrawn(drawing))!
        for (let part = 0; part < index.partCount; part++) {
          const { x, y } = partPositionM(index, part)!
          // rails may stand out of the modules up the slope, never along it
          expect(x).toBeGreaterThanOrEqual(box.minX - 1e-9)
          expect(x).toBeLessThanOrEqual(box.maxX + 1e-9)
          expect(y).toBeGreaterThanOrEqual(box.minY - 1e-9)
        }
      }),
      { numRuns: 60, seed: 5 },
    )
  })
})

describe('choosing with a box', () => {
  const chosen = (a: PointM, b: PointM, wholly: boolean) =>
    itemsInBox(example, boxBetween(a, b), wholly).map(({ sort, id }) => `${sort} ${id}`)

  it('takes what lies wholly in it, or what it touches', () => {
    expect(chosen({ x: -5, y: 5 }, { x: -2, y: 0 }, true)).toEqual([
      'enclosure 1',
      'earthBar 1',
      'electrode 1',
      'conductor 2',
    ])
    expect(chosen({ x: -5, y: 5 }, { x: -2, y: 0 }, false)).toEqual([
      'enclosure 1',
      'earthBar 1',
      'electrode 1',
      'conductor 1',
      'conductor 2',
    ])
  })

  it('takes an area that lies around it, but not a ring', () => {
    expect(chosen({ x: 2, y: 1 }, { x: 2.1, y: 1.1 }, false)).toEqual(['row 1'])
    expect(chosen({ x: 2, y: 1 }, { x: 2.1, y: 1.1 }, true)).toEqual([])
    expect(chosen({ x: 26, y: 1 }, { x: 27, y: 2 }, false)).toEqual([])
  })

  it('takes a line that only crosses it', () => {
    expect(chosen({ x: 29, y: 10 }, { x: 31, y: 11 }, false)).toEqual(['electrode 3'])
    expect(chosen({ x: 5, y: 7.5 }, { x: 6, y: 8.5 }, false)).toEqual(['aisle 1'])
    expect(chosen({ x: 5, y: 8.1 }, { x: 6, y: 8.5 }, false)).toEqual([])
  })

  it('knows inside from outside, also of an outline with a bay', () => {
    const bay = [
      { x: 0, y: 0 },
      { x: 4, y: 0 },
      { x: 4, y: 4 },
      { x: 2, y: 1 },
      { x: 0, y: 4 },
    ]
    expect(isInside({ x: 2, y: 0.5 }, bay)).toBe(true)
    expect(isInside({ x: 2, y: 2 }, bay)).toBe(false)
    expect(isInside({ x: 5, y: 1 }, bay)).toBe(false)
  })
})

describe('what others snap to', () => {
  it('are corners and ends of a row, places of equipment, points of a path', () => {
    const index = turned(90)
    expect(corners(itemAnchorsM(index, row))).toEqual([
      [100, 50],
      [110.8, 50],
      [110.8, 54.1],
      [100, 54.1],
      [100, 52.05],
      [110.8, 52.05],
    ])
    expect(itemAnchorsM(example, { sort: 'earthBar', id: 1 })).toEqual([{ x: -3, y: 3 }])
    expect(itemAnchorsM(example, { sort: 'enclosure', id: 1 })).toHaveLength(5)
    expect(itemAnchorsM(example, { sort: 'electrode', id: 1 })).toEqual([{ x: -4, y: 4 }])
    expect(itemAnchorsM(example, { sort: 'aisle', id: 1 })).toHaveLength(2)
  })

  it('are the corners of the nearest table and its neighbours', () => {
    const index = turned(90)
    const along = (x: number) => [...new Set(tableAnchorsM(index, 4, { x, y: 51 }).map((at) => nine(at.x)))]
    expect(along(101)).toEqual([100, 103.4, 103.7, 107.1])
    expect(along(105)).toEqual([100, 103.4, 103.7, 107.1, 107.4, 110.8])
    expect(along(10)).toEqual([100, 103.4, 103.7, 107.1])
    expect(along(500)).toEqual([103.7, 107.1, 107.4, 110.8])
    const up = tableAnchorsM(index, 4, { x: 109, y: 51 }).map((at) => nine(at.y))
    expect([...new Set(up)]).toEqual([50, 52, 54.1])
  })
})
