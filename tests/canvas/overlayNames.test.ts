import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { buildGeometry, tableCornersM, type MapGeometry } from '../../src/canvas/geometry.ts'
import { labelRoom } from '../../src/canvas/mapRoom.ts'
import { toScreen, type View } from '../../src/canvas/mapTypes.ts'
import { namedPlaces } from '../../src/canvas/namedPlaces.ts'
import { noInset } from '../../src/canvas/camera.ts'
import { doTouch, isInside, placeLabels } from '../../src/canvas/overlayLabels.ts'
import { rowWishes, type NameText } from '../../src/canvas/overlayNames.ts'
import { edgeWishes, tableWishes } from '../../src/canvas/overlayTableNames.ts'
import { rowNames, tableText } from '../../src/canvas/placeNames.ts'
import type { LabelWish } from '../../src/canvas/overlayLabels.ts'
import { jointIndexOf } from '../../src/layout/jointIndex.ts'
import { parseJointAddress } from '../../src/model/address.ts'
import { drawingOf, indexOf, rowOf, typeOf } from '../layout/smallDrawings.ts'
import { demoIndex } from './demoIndex.ts'

const field = buildGeometry(demoIndex('field'))
const tracker = buildGeometry(demoIndex('tracker'))
const widthOf = (text: string) => 7 * text.length + 8

/** A view of the middle of a rectangle of the plan. */
function viewOf(k: number, x: number, y: number, widthPx = 900, heightPx = 600): View {
  return { x: widthPx / 2 - k * x, y: heightPx / 2 + k * y, k, widthPx, heightPx, dpr: 1 }
}

function roomOf(view: View) {
  return { view, room: labelRoom(view, noInset, false), widthOf }
}

function placed(wishes: readonly LabelWish<NameText>[], view: View) {
  const { room } = roomOf(view)
  return placeLabels(wishes, [], { within: room, apartPx: 3, most: 200 })
}

const rowsIn = (geometry: MapGeometry, view: View, wanted: readonly number[] = []) =>
  placed(rowWishes(rowNames(geometry), new Set(wanted), roomOf(view)), view)

describe('names of rows', () => {
  it('stand beside both ends of every row that is in view whole, in the words painted on site', () => {
    const view = viewOf(8, 48, 18)
    const names = rowsIn(field, view)
    expect(names.map(({ of }) => of.text).sort()).toEqual(
      field.index.drawing.rows.flatMap(({ label }) => [label, label]).sort(),
    )
    for (const { fromM, toM, text } of rowNames(field).rows) {
      const [west, east] = names.filter(({ of }) => of.text === text).sort((a, b) => a.box.left - b.box.left)
      expect(west.box.right).toBeLessThan(toScreen(view, fromM).x)
      expect(east.box.left).toBeGreaterThan(toScreen(view, toM).x)
      expect(Math.abs((west.box.top + west.box.bottom) / 2 - toScreen(view, fromM).y)).toBeLessThan(1)
    }
  })

  it('slide along the edge of the view while any of the row is in view, and stay on their row', () => {
    const view = fc.record({
      k: fc.double({ min: 4, max: 40, noNaN: true }),
      x: fc.double({ min: 0, max: 95, noNaN: true }),
      y: fc.double({ min: 0, max: 35, noNaN: true }),
    })
    fc.assert(
      fc.property(view, ({ k, x, y }) => {
        const view = viewOf(k, x, y)
        const names = rowsIn(field, view)
        for (const { fromM, toM, halfM, text } of rowNames(field).rows) {
          const [from, to] = [toScreen(view, fromM), toScreen(view, toM)]
          const own = names.filter(({ of }) => of.text === text)
          const isWhollySeen = from.y - halfM * k > 24 && from.y + halfM * k < view.heightPx - 24
          if (isWhollySeen && from.x < view.widthPx - 80 && to.x > 80) expect(own.length).toBeGreaterThan(0)
          for (const { box } of own) {
            expect(Math.abs((box.top + box.bottom) / 2 - from.y)).toBeLessThanOrEqual(halfM * k + 1)
          }
        }
      }),
      { seed: 11 },
    )
  })

  it('are thinned where rows lie close together; those of what is wanted stay', () => {
    const view = viewOf(0.8, 560, 900, 1000, 1500)
    const rows = rowsIn(tracker, view, [36])
    const texts = new Set(rows.map(({ of }) => of.text))
    const wanted = tracker.index.drawing.rows[36].label
    expect(texts.has(wanted)).toBe(true)
    expect(rows.filter(({ of }) => of.text === wanted).every(({ of }) => of.weight === 'plate')).toBe(true)
    expect(texts.size).toBeGreaterThan(8)
    expect(texts.size).toBeLessThan(25)
    const step10 = tracker.index.drawing.rows.filter((_, i) => (i + 1) % 10 === 0).map(({ label }) => label)
    expect(step10.filter((label) => texts.has(label)).length).toBeGreaterThanOrEqual(9)
  })

  it('turn along rows that run upwards where they have no room across', () => {
    const near = rowsIn(tracker, viewOf(3, 300, 900))
    expect(near.length).toBeGreaterThan(20)
    expect(near.every(({ of }) => of.isTurned)).toBe(true)
    const nearer = rowsIn(tracker, viewOf(12, 300, 900))
    expect(nearer.length).toBeGreaterThan(4)
    expect(nearer.some(({ of }) => of.isTurned)).toBe(false)
  })

  it('touch neither one another nor the edge, however the rows are turned', () => {
    const of = fc.record({
      bearing: fc.integer({ min: 0, max: 359 }),
      k: fc.double({ min: 0.5, max: 60, noNaN: true }),
      x: fc.double({ min: -20, max: 60, noNaN: true }),
      y: fc.double({ min: -20, max: 60, noNaN: true }),
    })
    fc.assert(
      fc.property(of, ({ bearing, k, x, y }) => {
        const turned = buildGeometry(indexOf(turnedDrawing(bearing)))
        const view = viewOf(k, x, y)
        const room = roomOf(view)
        const names = placed(
          [...rowWishes(rowNames(turned), new Set([1]), room), ...tableWishes(turned, [], room)],
          view,
        )
        names.forEach(({ box }, i) => {
          expect(isInside(box, room.room)).toBe(true)
          for (const other of names.slice(0, i)) expect(doTouch(box, other.box)).toBe(false)
        })
      }),
      { seed: 5 },
    )
  })
})

function turnedDrawing(bearingDeg: number) {
  const radians = (bearingDeg * Math.PI) / 180
  const rows = [0, 1, 2, 3].map((i) =>
    rowOf({
      id: i + 1,
      label: `Row ${i + 1}`,
      bearingDeg,
      originM: { x: -6 * i * Math.cos(radians), y: 6 * i * Math.sin(radians) },
      runs: [{ firstTable: 1, count: 5, type: 'plain' }],
    }),
  )
  return drawingOf({ tableTypes: [typeOf({})], rows })
}

describe('names of tables', () => {
  it('come once they have room, inside their tables', () => {
    expect(tableWishes(field, [], roomOf(viewOf(8, 48, 18)))).toEqual([])
    const view = viewOf(24, 48, 18)
    const names = placed(tableWishes(field, [], roomOf(view)), view)
    expect(names.length).toBeGreaterThan(5)
    for (const { of, box } of names) {
      const spots = [...Array(6).keys()].flatMap((run) =>
        [...Array(8).keys()].map((place) => ({ run, place })),
      )
      const spot = spots.find((spot) => tableText(field.index, spot) === of.text)!
      const corners = tableCornersM(field, spot).map((corner) => toScreen(view, corner))
      expect(box.left).toBeGreaterThanOrEqual(Math.min(...corners.map(({ x }) => x)))
      expect(box.right).toBeLessThanOrEqual(Math.max(...corners.map(({ x }) => x)))
      expect(box.top).toBeGreaterThanOrEqual(Math.min(...corners.map(({ y }) => y)))
      expect(box.bottom).toBeLessThanOrEqual(Math.max(...corners.map(({ y }) => y)))
    }
  })

  it('without paint they are the word and the number', () => {
    expect(tableText(tracker.index, { run: 0, place: 6 })).toBe('Table 7')
  })

  it('of a suspect jumper are both tables it joins, at every zoom, beside their edges', () => {
    const joint = jointIndexOf(field.index, parseJointAddress('R4/T6+T7~1')!)
    const suspects = [{ joint, probability: 0.9, rank: 1, isPicked: false }]
    const { tables, rows } = namedPlaces(field, { picked: null, suspects })
    expect([...rows].map((row) => field.index.drawing.rows[row].label)).toEqual(['Row 4'])
    const view = viewOf(3, 48, 18)
    const names = placed(edgeWishes(field, tables, roomOf(view)), view)
    expect(names.map(({ of }) => of.text).sort()).toEqual(['4-06', '4-07'])
    expect(namedPlaces(field, { picked: { kind: 'table', row: 2, table: 3 }, suspects: [] }).tables).toEqual([
      { run: 1, place: 2 },
    ])
  })
})
