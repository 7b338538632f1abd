import { describe, expect, it } from 'vitest'
import { nextLabel } from '../../../src/tools/draw/nextLabel.ts'
import { rowTool } from '../../../src/tools/draw/rowTool.ts'
import { smallSite, siteWith } from './drawSite.ts'
import { Hand } from './hand.ts'

const rowHand = (site = siteWith()) => new Hand(rowTool, site)

describe('a row', () => {
  it('is drawn by a drag: as many tables as fit, from the lower outer corner', () => {
    const hand = rowHand().drag([1, 2], [12, 2])
    expect(hand.edits).toBe(1)
    expect(hand.site.drawing.rows).toEqual([
      {
        id: 1,
        label: '',
        originM: { x: 1, y: 2 },
        bearingDeg: 90,
        gapM: 0.3,
        runs: [{ firstTable: 1, count: 3, type: 'plain' }],
        nextTable: 4,
        links: { count: 1, kind: 'jumper' },
        tableLabels: {},
      },
    ])
    expect(hand.chosen).toEqual([{ sort: 'row', id: 1 }])
    expect(hand.state).toBe(rowTool.idle)
  })

  it('is shown while it is drawn: each table, its length, their number', () => {
    const hand = rowHand().pull([0, 0], [7.2, 0])
    expect(hand.told).toEqual({ fact: 'row', tables: 2, lengthM: 7.1, bearingDeg: 90 })
    expect(hand.preview!.outlines).toHaveLength(2)
    const rounded = hand.preview!.outlines[1].map(({ x, y }) => [Number(x.toFixed(6)), Number(y.toFixed(6))])
    expect(rounded).toEqual([
      [3.7, 0],
      [7.1, 0],
      [7.1, 2],
      [3.7, 2],
    ])
    expect(rowHand().pull([0, 0], [2000, 0]).preview!.outlines).toHaveLength(1)
    expect(hand.edits).toBe(0)
  })

  it.each([
    ['by mouse', (hand: ReturnType<typeof rowHand>) => hand.click([0, 0]).hover([5, 0]).click([8, 0])],
    ['by finger', (hand: ReturnType<typeof rowHand>) => hand.tap([0, 0]).tap([8, 0])],
    ['by a tap and a drag', (hand: ReturnType<typeof rowHand>) => hand.tap([0, 0]).drag([7, 0], [8, 0])],
  ])('is drawn from one tap to another %s', (_, draw) => {
    const hand = draw(rowHand())
    expect(hand.edits).toBe(1)
    expect(hand.site.drawing.rows[0]).toMatchObject({ originM: { x: 0, y: 0 }, bearingDeg: 90 })
    expect(hand.site.drawing.rows[0].runs[0].count).toBe(2)
  })

  it.each([
    ['finish', (hand: ReturnType<typeof rowHand>) => hand.tap([4, 4]).finish()],
    ['a second tap there', (hand: ReturnType<typeof rowHand>) => hand.tap([4, 4]).tap([4.05, 4])],
  ])('is set eastwards by a tap and %s', (_, draw) => {
    expect(draw(rowHand()).site.drawing.rows[0]).toMatchObject({ bearingDeg: 90, runs: [{ count: 1 }] })
    const typed = draw(rowHand().making({ tables: 12 }))
    expect(typed.site.drawing.rows[0].runs[0].count).toBe(12)
    expect(typed.done).toMatchObject([{ what: { deed: 'drawRow', tables: 12 } }])
  })

  it('has the typed number of tables wherever the drag ends', () => {
    const hand = rowHand().making({ tables: 5 }).drag([0, 0], [0, 2])
    expect(hand.site.drawing.rows[0]).toMatchObject({ bearingDeg: 0, runs: [{ count: 5 }] })
  })

  it('takes the direction of the row beside it where the drag comes near, and starts in line with it', () => {
    const slanted = rowHand().drag([0, 0], [20, -3], { isFree: true })
    const { bearingDeg } = slanted.site.drawing.rows[0]
    expect(bearingDeg).toBeCloseTo(98.5308, 4)
    // 6 m square to the left of the first row's start, a little off the start line.
    const angle = (bearingDeg * Math.PI) / 180
    const start = [-6 * Math.cos(angle) + 0.04, 6 * Math.sin(angle)] as const
    const hand = slanted.drag(start, [start[0] + 20, start[1] - 3.05])
    const second = hand.site.drawing.rows[1]
    expect(second.bearingDeg).toBe(bearingDeg)
    const along = second.originM.x * Math.sin(angle) + second.originM.y * Math.cos(angle)
    expect(along).toBeCloseTo(0, 3)
  })

  it('keeps to eighths of a turn while held straight', () => {
    const bearing = (held: { isAdding?: boolean }) =>
      rowHand().drag([0, 0], [10, 4], held).site.drawing.rows[0].bearingDeg
    expect(bearing({ isAdding: true })).toBe(90)
    expect(bearing({})).toBeCloseTo(68.1986, 4)
  })

  it('that ends in line with the one beside it has as many tables, whichever way they run', () => {
    for (const end of [
      [30, -3],
      [-17, 21],
      [-25, -9.3],
      [4, -40],
    ] as const) {
      const first = rowHand().drag([1.2345, 6.789], [1.2345 + end[0], 6.789 + end[1]], { isFree: true })
      const [row] = first.site.drawing.rows
      const { x, y } = row.originM
      const angle = (row.bearingDeg * Math.PI) / 180
      const along = { x: Math.sin(angle), y: Math.cos(angle) }
      const lengthM = row.runs[0].count * 3.7 - 0.3
      const aside = { x: -6.2 * along.y, y: 6.2 * along.x }
      const used = first.drag(
        [x + aside.x, y + aside.y],
        [x + aside.x + (lengthM + 0.05) * along.x, y + aside.y + (lengthM + 0.05) * along.y],
      )
      const second = used.site.drawing.rows[1]
      expect(second.runs[0].count).toBe(row.runs[0].count)
      expect(second.bearingDeg).toBe(row.bearingDeg)
    }
  })

  it('is labelled by counting up', () => {
    const hand = new Hand(rowTool, smallSite()).drag([0, 20], [12, 20])
    expect(hand.site.drawing.rows[2]).toMatchObject({ id: 3, label: 'Row 3' })
  })

  it('needs a table type', () => {
    const hand = rowHand().making({ tableType: null }).tap([0, 0])
    expect(hand.told).toEqual({ fact: 'refused', reason: 'noType' })
    expect(hand.pull([0, 0], [9, 0]).told).toEqual({ fact: 'refused', reason: 'noType' })
    expect(hand.drag([0, 0], [9, 0]).done).toEqual([])
    expect(hand.making({ tableType: 'gone' }).tap([0, 0]).finish().done).toEqual([])
  })

  it('is given up by cancel, back, and not by the pointer leaving', () => {
    const hand = rowHand().tap([0, 0]).hover([5, 0])
    expect(hand.leave().preview!.points).toEqual([{ x: 0, y: 0 }])
    expect(hand.cancel().state).toBe(rowTool.idle)
    expect(hand.preview).toBe(null)
    expect(hand.tap([0, 0]).back().state).toBe(rowTool.idle)
    expect(hand.done).toEqual([])
  })
})

describe('the next label', () => {
  it.each([
    [['Row 1', 'Row 3'], 'Row 4'],
    [['N-09'], 'N-10'],
    [['Row 1', 'Row 2', 'Row 1'], 'Row 3'],
    [['Row 7', 'by the gate'], 'Row 8'],
    [['7'], '8'],
    [['by the gate', ''], ''],
    [[], ''],
  ])('after %j is %j', (labels, label) => {
    expect(nextLabel(labels)).toBe(label)
  })
})
