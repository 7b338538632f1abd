import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { wholly } from '../../src/base/portion.ts'
import { randomStream } from '../../src/base/random.ts'
import type { SiteIndex } from '../../src/layout/siteIndex.ts'
import type { PointM } from '../../src/model/schema/primitives.ts'
import { prepareGround, type Ground } from '../../src/walk/ground/ground.ts'
import { sightAmong } from '../../src/walk/ground/sight.ts'
import { standsFor } from '../../src/walk/ground/stands.ts'
import { stopsOn, wayBetween } from '../../src/walk/ground/ways.ts'
import { drawingOf, indexOf, modulesOf, railOf, rowOf, typeOf } from '../layout/smallDrawings.ts'
import { barAt, rowsOnGround } from './groundSites.ts'

const groundOf = (index: SiteIndex): Ground => wholly(prepareGround(index))

const squarePoint = fc.record({ x: fc.integer({ min: -40, max: 80 }), y: fc.integer({ min: -40, max: 80 }) })
const anyRow = fc.record({
  originM: squarePoint,
  bearingDeg: fc.constantFrom(0, 90, 90, 90, 270, 37),
  gapM: fc.constantFrom(0.02, 0.3, 0.8),
  count: fc.integer({ min: 1, max: 6 }),
})
const anyGround: fc.Arbitrary<SiteIndex> = fc
  .record({
    rows: fc.array(anyRow, { minLength: 1, maxLength: 7 }),
    aisles: fc.array(fc.array(squarePoint, { minLength: 2, maxLength: 4 }), { maxLength: 2 }),
    obstacles: fc.array(
      fc.tuple(squarePoint, fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 12 })),
      {
        maxLength: 2,
      },
    ),
    bars: fc.array(squarePoint, { maxLength: 4 }),
  })
  .map((drawn) => indexOf(rowsOnGround(drawn)))

function someParts(index: SiteIndex, most: number): Int32Array {
  const random = randomStream(7)
  const items = Array.from(
    { length: index.partCount - index.enclosureStart },
    (_, k) => index.enclosureStart + k,
  )
  const others = Array.from({ length: most }, () => random.integer(index.partCount))
  return Int32Array.from([...items, ...others])
}

/** A row of `tables` tables of 3.4 m × 2 m eastwards, its lower edge at `y`. */
const rowAt = (id: number, y: number, tables: number, gapM = 0.3) =>
  rowOf({
    id,
    originM: { x: 0, y },
    gapM,
    runs: [{ firstTable: 1, count: tables, type: 'plain' }],
    nextTable: tables + 1,
  })

const railPart = (index: SiteIndex, row: number, table: number) =>
  index.rows.partStart[row] + table * index.patterns[0]!.partCount + index.patterns[0]!.longStart

function distanceM(index: SiteIndex, a: number, b: number): number {
  const ground = groundOf(index)
  return stopsOn(ground, standsFor(ground, Int32Array.from([a, b]))).distanceM(0, 1)
}

describe('the metric on foot', () => {
  it('is symmetric, keeps the triangle inequality, is never below the straight line, and finite', () => {
    fc.assert(
      fc.property(anyGround, (index) => {
        const ground = groundOf(index)
        const parts = someParts(index, 12)
        const { count, distanceM, xM, yM } = stopsOn(ground, standsFor(ground, parts))
        for (let a = 0; a < count; a++) {
          expect(distanceM(a, a)).toBe(0)
          for (let b = 0; b < count; b++) {
            expect(distanceM(a, b)).toBeCloseTo(distanceM(b, a), 9)
            expect(distanceM(a, b)).toBeLessThan(2000)
            expect(distanceM(a, b)).toBeGreaterThanOrEqual(Math.hypot(xM[a] - xM[b], yM[a] - yM[b]) - 2e-3)
            for (let c = 0; c < count; c += 3) {
              expect(distanceM(a, b)).toBeLessThanOrEqual(distanceM(a, c) + distanceM(c, b) + 2e-3)
            }
          }
        }
      }),
      { numRuns: 60 },
    )
  })

  it('is the length of a way that leads through no table and no obstacle, but along drawn aisles', () => {
    let held = 0
    fc.assert(
      fc.property(anyGround, (index) => {
        const ground = groundOf(index)
        const { drawing } = index
        const sight = sightAmong(
          ground.barriers,
          drawing.obstacles.map(({ outlineM }) => outlineM),
        )
        const parts = someParts(index, 8)
        const stands = standsFor(ground, parts)
        const { count, distanceM } = stopsOn(ground, stands)
        if (ground.joins > 0 || stands.some(({ offM }) => offM > 0)) return
        held++
        for (let a = 0; a < count; a++) {
          for (let b = 0; b < a; b++) {
            const way = wayBetween(ground, stands[a], stands[b])
            let lengthM = 0
            for (let k = 1; k < way.length; k++) {
              lengthM += Math.hypot(way[k].x - way[k - 1].x, way[k].y - way[k - 1].y)
              // the end of a lane may touch a table that stands across it
              if (Math.hypot(way[k].x - way[k - 1].x, way[k].y - way[k - 1].y) < 2e-3) continue
              const isClear = sight.isClear(shrunk(way[k - 1], way[k]), shrunk(way[k], way[k - 1]))
              expect(isClear || isAlongAisle(index, way[k - 1], way[k])).toBe(true)
            }
            expect(lengthM).toBeCloseTo(distanceM(a, b), 2)
          }
        }
      }),
      { numRuns: 120, seed: 3 },
    )
    expect(held).toBeGreaterThan(20)
  })

  it('along one side of a row is the straight line; to the row opposite, across the gap as well', () => {
    const index = indexOf(rowsOf([rowAt(1, 0, 10), rowAt(2, 6, 10)]))
    const pitchM = 3.4 + 0.3
    expect(distanceM(index, railPart(index, 0, 2), railPart(index, 0, 7))).toBeCloseTo(5 * pitchM, 6)
    // rails half a metre up: both from below, so the upper row from the gap and the lower one from its far side
    const upper = distanceM(index, railPart(index, 1, 2), railPart(index, 1, 7))
    expect(upper).toBeCloseTo(5 * pitchM, 6)
  })

  it('to the other side of a row leads round its nearer end', () => {
    const index = indexOf(rowsOf([rowAt(1, 0, 10), rowAt(2, 6, 10)]))
    // the first rails begin at the west end: row 1 is reached from below, row 2 from the gap, 0.25 m off each and off the end
    expect(distanceM(index, railPart(index, 0, 0), railPart(index, 1, 0))).toBeCloseTo(6 + 2 * 0.25, 6)
    expect(distanceM(index, railPart(index, 0, 5), railPart(index, 1, 5))).toBeGreaterThan(30)
  })

  it('leads through a gap that a person fits through, and through no narrower one', () => {
    const narrow = indexOf(rowsOf([rowAt(1, 0, 10, 0.5), rowAt(2, 6, 10, 0.5)]))
    const wide = indexOf(rowsOf([rowAt(1, 0, 10, 0.7), rowAt(2, 6, 10, 0.7)]))
    expect(distanceM(wide, railPart(wide, 0, 5), railPart(wide, 1, 5))).toBeLessThan(12)
    expect(distanceM(narrow, railPart(narrow, 0, 5), railPart(narrow, 1, 5))).toBeGreaterThan(30)
  })

  it('leads round an obstacle, and through it along a drawn aisle', () => {
    const bars = [barAt(1, { x: 0, y: 0 }), barAt(2, { x: 20, y: 0 })]
    const outlineM = [
      { x: 8, y: -10 },
      { x: 12, y: -10 },
      { x: 12, y: 10 },
      { x: 8, y: 10 },
    ]
    const obstacles = [{ id: 1, name: 'pond', outlineM }]
    const open = indexOf(drawingOf({ earthBars: bars }))
    const closed = indexOf(drawingOf({ earthBars: bars, obstacles }))
    const bridged = indexOf(
      drawingOf({
        earthBars: bars,
        obstacles,
        aisles: [
          {
            id: 1,
            pathM: [
              { x: 1, y: 0 },
              { x: 19, y: 0 },
            ],
          },
        ],
      }),
    )
    expect(distanceM(open, open.earthBarStart, open.earthBarStart + 1)).toBeCloseTo(20, 9)
    const roundM = distanceM(closed, closed.earthBarStart, closed.earthBarStart + 1)
    const tautM = 2 * Math.hypot(8, 10) + 4
    expect(roundM).toBeGreaterThan(tautM)
    expect(roundM).toBeLessThan(tautM + 0.5)
    expect(distanceM(bridged, bridged.earthBarStart, bridged.earthBarStart + 1)).toBeCloseTo(20, 6)
  })

  it('goes along drawn aisles from one block to another, where both have one beside them', () => {
    const rows = [rowAt(1, 0, 5), { ...rowAt(2, 0, 5), originM: { x: 26, y: 0 } }]
    const aisles = [
      {
        id: 1,
        pathM: [
          { x: 19, y: 12 },
          { x: 19, y: -10 },
          { x: 25, y: -10 },
          { x: 25, y: 12 },
        ],
      },
    ]
    const open = indexOf(rowsOf(rows))
    const led = indexOf({ ...rowsOf(rows), aisles })
    const straightM = distanceM(open, railPart(open, 0, 4), railPart(open, 1, 0))
    expect(straightM).toBeLessThan(12)
    expect(distanceM(led, railPart(led, 0, 4), railPart(led, 1, 0))).toBeGreaterThan(straightM + 12)
  })

  it('joins what nothing leads to, and counts it', () => {
    const walled = drawingOf({
      earthBars: [barAt(1, { x: 0, y: 0 }), barAt(2, { x: 30, y: 0 })],
      obstacles: [
        {
          id: 1,
          name: 'yard',
          outlineM: [
            { x: -5, y: -5 },
            { x: 5, y: -5 },
            { x: 5, y: 5 },
            { x: -5, y: 5 },
          ],
        },
      ],
    })
    const index = indexOf(walled)
    expect(groundOf(index).joins).toBe(1)
    expect(distanceM(index, index.earthBarStart, index.earthBarStart + 1)).toBeLessThan(45)
  })
})

describe('where one stands', () => {
  const twoRails = typeOf({
    modules: modulesOf({ high: 2 }),
    longMembers: [railOf({ carries: [1], upM: 0.5 }), railOf({ carries: [2], upM: 3.6 })],
  })
  const index = indexOf({ ...rowsOf([rowAt(1, 0, 3)]), tableTypes: [twoRails] })
  const pattern = index.patterns[0]!

  it('is the side that a part is near to', () => {
    const stands = standsFor(groundOf(index), Int32Array.from([pattern.longStart, pattern.longStart + 4]))
    expect(stands.map(({ at }) => at.y < 0)).toEqual([true, false])
  })

  it('of a part in the middle is the side that others ask for', () => {
    const slim = indexOf(rowsOf([rowAt(1, 0, 3)]))
    const { longStart, partCount } = slim.patterns[0]!
    // 2 m deep: the frame in the middle is reached from both sides, the rail half a metre up from below only
    const stands = standsFor(groundOf(slim), Int32Array.from([0, partCount + longStart]))
    for (const { at } of stands) expect(at.y).toBeCloseTo(-0.25, 9)
  })

  it('cannot be remote earth', () => {
    expect(() => standsFor(groundOf(index), Int32Array.from([index.remoteEarth]))).toThrow(
      /cannot be walked to/,
    )
  })
})

function rowsOf(rows: readonly ReturnType<typeof rowAt>[]) {
  return drawingOf({ tableTypes: [typeOf({})], rows: [...rows] })
}

/** Half a millimetre in from the end of a leg: its ends may touch. */
function shrunk(from: PointM, to: PointM): PointM {
  const lengthM = Math.hypot(to.x - from.x, to.y - from.y)
  const share = 5e-4 / lengthM
  return { x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) }
}

function isAlongAisle({ drawing }: SiteIndex, a: PointM, b: PointM): boolean {
  return drawing.aisles.some(({ pathM }) =>
    pathM.slice(1).some((end, k) => [a, b].every((point) => isOnLeg(pathM[k], end, point))),
  )
}

function isOnLeg(start: PointM, end: PointM, { x, y }: PointM): boolean {
  const lengthM = Math.hypot(end.x - start.x, end.y - start.y)
  if (lengthM === 0) return false
  const alongM = ((x - start.x) * (end.x - start.x) + (y - start.y) * (end.y - start.y)) / lengthM
  const offM = Math.abs((x - start.x) * (end.y - start.y) - (y - start.y) * (end.x - start.x)) / lengthM
  return offM < 1e-3 && alongM > -1e-3 && alongM < lengthM + 1e-3
}
