import { describe, expect, it } from 'vitest'
import type { DrawnItem } from '../../../src/model/drawnItem.ts'
import { byId } from '../../../src/model/queries/byId.ts'
import type { DrawContext } from '../../../src/tools/draw/drawTool.ts'
import { toolOf } from '../../../src/tools/draw/tools.ts'
import { smallSite } from './drawSite.ts'
import { Hand } from './hand.ts'

const tool = toolOf('select')
const hand = (change: Partial<DrawContext> = {}) => new Hand(tool, smallSite(), change)
const row = (id: number): DrawnItem => ({ sort: 'row', id })
const box: DrawnItem = { sort: 'enclosure', id: 1 }
const wire: DrawnItem = { sort: 'conductor', id: 1 }
const rowOfId = (used: Hand<unknown>, id: number) => byId(used.site.drawing.rows).get(id)!
const onRow1 = [5, 0.5] as const
const onGround = [50, -20] as const

describe('a tap', () => {
  it('chooses the thing there, and on empty ground nothing', () => {
    const used = hand().tap(onRow1)
    expect(used.chosen).toEqual([row(1)])
    expect(used.click([20, 1]).chosen).toEqual([box])
    expect(used.tap(onGround).chosen).toEqual([])
    expect(used.edits).toBe(0)
  })

  it('held to add takes things into the choice and out of it, and keeps it on empty ground', () => {
    const used = hand().tap(onRow1).tap([20, 1], { isAdding: true })
    expect(used.chosen).toEqual([row(1), box])
    expect(used.tap(onGround, { isAdding: true }).chosen).toEqual([row(1), box])
    expect(used.tap(onRow1, { isAdding: true }).chosen).toEqual([box])
  })

  it('looks into what alone is chosen, and makes one of several the only one', () => {
    const used = hand().choose(row(1)).tap(onRow1)
    expect(used.done).toMatchObject([{ kind: 'inspect', at: { atM: { x: 5, y: 0.5 } } }])
    expect(hand().choose(row(1), box).tap(onRow1).chosen).toEqual([row(1)])
  })

  it('on a handle leaves the choice', () => {
    expect(hand().choose(row(1)).tap(onGround, { handle: 'turn' }).done).toEqual([])
  })
})

describe('a drag', () => {
  it('moves all that is chosen by one edit, and shows it moved before', () => {
    const used = hand().choose(row(1), box).pull(onRow1, [7, -1.5])
    expect(used.told).toEqual({ fact: 'move', byM: { x: 2, y: -2 } })
    expect(used.preview!.outlines).toHaveLength(2)
    expect(used.preview!.outlines[0][0]).toEqual({ x: 2, y: -2 })
    expect(used.edits).toBe(0)
    used.drop(onRow1, [7, -1.5])
    expect(used.edits).toBe(1)
    expect(used.done).toMatchObject([{ what: { deed: 'move', items: 2 } }])
    expect(rowOfId(used, 1).originM).toEqual({ x: 2, y: -2 })
    expect(rowOfId(used, 2).originM).toEqual({ x: 0, y: 6 })
    expect(used.site.drawing.enclosures[0].atM).toEqual({ x: 22, y: -1 })
    expect(used.chosen).toEqual([row(1), box])
    expect(used.state).toBe(tool.idle)
  })

  it('lands the nearest corner of what was taken on the grid, or in line with what stays', () => {
    const onGrid = hand({ gridM: 0.5 }).choose(row(1)).drag([0.2, 0.2], [30.3, 29.9])
    expect(rowOfId(onGrid, 1).originM).toEqual({ x: 30, y: 29.5 })
    // The corner passes 0.06 m beside the western ends of row 2, far from its own line.
    const inLine = hand({ gridM: 0.5 }).choose(row(1)).drag([0.2, 0.2], [0.26, -4.1], {}, { reachM: 0.07 })
    expect(rowOfId(inLine, 1).originM).toEqual({ x: 0, y: -4.5 })
  })

  it('held straight keeps to the row’s own directions, and is free of all when snapping is off', () => {
    const straight = hand().choose(row(1)).drag(onRow1, [9, 1], {}, { isAdding: true })
    expect(rowOfId(straight, 1).originM.y).toBe(0)
    const free = hand({ gridM: 1 }).choose(row(1)).drag(onRow1, [9.123, 3.04], { isFree: true })
    expect(rowOfId(free, 1).originM).toEqual({ x: 4.123, y: 2.54 })
  })

  it('does not snap to where what is moved stood', () => {
    // The south-west corner would come within reach of a line through the east side's old place.
    const used = hand().choose(box).drag([19.1, 0.6], [21.05, 50.9])
    expect(used.site.drawing.enclosures[0].atM.x).toBe(21.95)
  })

  it('that comes back makes no edit', () => {
    const used = hand({ gridM: 1 }).choose(row(1)).pull(onRow1, [9, 3]).drop(onRow1, [5.1, 0.4])
    expect(used.done).toEqual([])
  })

  it('is given up by cancel and when the pointer is taken away', () => {
    const used = hand().choose(row(1)).pull(onRow1, [9, 3])
    expect(used.state).not.toBe(tool.idle)
    expect(used.cancel().state).toBe(tool.idle)
    expect(used.pull(onRow1, [9, 3]).leave().state).toBe(tool.idle)
    expect(used.preview).toBe(null)
    expect(used.done).toEqual([])
  })

  it('on what is not chosen, and on empty ground, belongs to the map', () => {
    expect(hand().owns(onRow1)).toBe(false)
    expect(hand().choose(row(2)).owns(onRow1)).toBe(false)
    expect(hand().choose(row(1)).owns(onRow1)).toBe(true)
    expect(hand().owns(onGround)).toBe(false)
    expect(hand().owns(onGround, { isAdding: true })).toBe(true)
    expect(hand({ isBoxing: true }).owns(onGround)).toBe(true)
  })
})

describe('a box', () => {
  const boxing = () => hand({ isBoxing: true })

  it('chooses what lies wholly in it, or all that it touches, whichever way it is drawn', () => {
    const inside = boxing().drag([-2, -1], [12, 3])
    expect(inside.chosen).toEqual([row(1)])
    const touching = hand({ isBoxing: true, boxTouches: true }).drag([12, 7], [9, 1])
    expect(touching.chosen).toContainEqual(row(1))
    expect(touching.chosen).toContainEqual(row(2))
    expect(boxing().drag([9, 1], [12, 7]).chosen).toEqual([])
    expect(boxing().drag([12, 7], [9, 1]).chosen).toEqual([])
  })

  it('is shown while it is drawn', () => {
    const used = boxing().pull([-2, -1], [12, 3])
    expect(used.preview!.box).toEqual([
      { x: -2, y: -1 },
      { x: 12, y: 3 },
    ])
    expect(used.done).toEqual([])
  })

  it('held to add keeps what is chosen', () => {
    const used = hand().choose(box).drag([-2, -1], [12, 3], { isAdding: true })
    expect(used.chosen).toEqual([box, row(1)])
  })
})

describe('the handles', () => {
  it('turn what is chosen about its middle, clockwise, in steps of 5°', () => {
    const used = hand().choose(row(1))
    const { x, y } = used.context.centreM!
    expect(x).toBeCloseTo(5.4, 9)
    expect(y).toBeCloseTo(1, 9)
    used.pull([x, y + 5], [x + 5, y + 0.2], { handle: 'turn' })
    expect(used.told).toEqual({ fact: 'turn', byDeg: 90 })
    used.drop([x, y + 5], [x + 5, y + 0.2], { handle: 'turn' })
    expect(used.edits).toBe(1)
    expect(rowOfId(used, 1)).toMatchObject({ bearingDeg: 180, originM: { x: 4.4, y: 6.4 } })
    // What was shown is what is there.
    const shown = hand()
      .choose(row(1))
      .pull([x, y + 5], [x + 5, y + 0.2], { handle: 'turn' }).preview!.outlines[0]
    const there = used.context.outlineOf(row(1))!.pointsM
    there.forEach((point, k) => {
      expect(point.x).toBeCloseTo(shown[k].x, 3)
      expect(point.y).toBeCloseTo(shown[k].y, 3)
    })
  })

  it('turn freely when snapping is off', () => {
    const used = hand().choose(row(1)).drag([5.4, 6], [5.9, 6], { handle: 'turn', isFree: true })
    expect(rowOfId(used, 1).bearingDeg).toBeCloseTo(95.71, 2)
  })

  it('make a row longer with more of its last tables, or shorter, the first ones as they are', () => {
    const longer = hand().choose(row(1)).drag([10.8, 1], [18.4, 1.02], { handle: 'rowEnd' })
    expect(longer.edits).toBe(1)
    expect(rowOfId(longer, 1)).toMatchObject({ bearingDeg: 90, runs: [{ firstTable: 1, count: 5 }] })
    expect(longer.done).toMatchObject([{ what: { deed: 'changeRow', tables: 5 } }])
    const shorter = hand().choose(row(1)).drag([10.8, 1], [4, 1.02], { handle: 'rowEnd' })
    expect(rowOfId(shorter, 1).runs).toEqual([{ firstTable: 1, count: 1, type: 'plain' }])
    const used = hand().choose(row(1)).pull([10.8, 1], [18.4, 1.02], { handle: 'rowEnd' })
    expect(used.told).toMatchObject({ fact: 'row', tables: 5, bearingDeg: 90 })
    expect(used.preview!.outlines[0][1].x).toBeCloseTo(18.2, 6)
  })

  it('turn a row by its end, and keep its direction while held straight', () => {
    const turned = hand().choose(row(1)).drag([10.8, 1], [10.8, -3], { handle: 'rowEnd', isFree: true })
    expect(rowOfId(turned, 1).bearingDeg).toBeCloseTo(110.323, 3)
    const kept = hand().choose(row(1)).drag([10.8, 1], [15, -1], { handle: 'rowEnd', isAdding: true })
    expect(rowOfId(kept, 1)).toMatchObject({ bearingDeg: 90, runs: [{ count: 4 }] })
  })

  it('are not there for several rows, or nothing', () => {
    expect(hand().choose(row(1), row(2)).owns(onGround, { handle: 'rowEnd' })).toBe(false)
    expect(hand().owns(onGround, { handle: 'turn' })).toBe(false)
  })
})

describe('a point of the one chosen path', () => {
  const points = (used: Hand<unknown>) => used.site.drawing.conductors[0].points

  it('is moved where it is dropped', () => {
    const used = hand().choose(wire).drag([25, -8], [26, -9])
    expect(used.edits).toBe(1)
    expect(used.done).toMatchObject([{ what: { deed: 'movePoint' } }])
    expect(points(used)[1]).toEqual({ id: 2, atM: { x: 26, y: -9 }, landing: null })
  })

  it('lands on the part where it is dropped, in one edit', () => {
    const used = hand().choose(wire).drag([30, -5], [20, 1.02])
    expect(used.edits).toBe(1)
    expect(points(used)[2]).toEqual({
      id: 3,
      atM: { x: 20, y: 1 },
      landing: { part: 'E1', kind: 'crimpLug' },
    })
    const bent = hand().choose(wire).drag([25, -8], [0.5, 1])
    expect(points(bent)[1].landing).toEqual({ part: 'R1/T1/F1.1', kind: 'crimpLug' })
  })

  it('lets go of its part when dropped on ground, and keeps it when dropped there again', () => {
    const used = hand().choose(wire).drag([30, -5], [33, -7])
    expect(points(used)[2]).toEqual({ id: 3, atM: { x: 33, y: -7 }, landing: null })
    const kept = hand().choose(wire).pull([30, -5], [33, -7]).drop([30, -5], [30.04, -5])
    expect(kept.done).toEqual([])
    const again = used.making({}).drag([33, -7], [30.04, -5])
    expect(points(again)[2]).toEqual({
      id: 3,
      atM: { x: 30, y: -5 },
      landing: { part: 'G1', kind: 'rodClamp' },
    })
  })

  it('does not land on its own conductor', () => {
    const own = { address: 'C1.1', atM: { x: 20, y: -5 } }
    const used = hand().choose(wire).drag([30, -5], [20.3, -5.3], {}, { part: own })
    expect(points(used)[2]).toEqual({ id: 3, atM: { x: 20.3, y: -5.3 }, landing: null })
  })

  it('of a strip, an aisle or an obstacle moves alike', () => {
    const aisle = hand().choose({ sort: 'aisle', id: 1 }).drag([40, 4], [40, 5])
    expect(aisle.site.drawing.aisles[0].pathM[1]).toEqual({ x: 40, y: 5 })
    const obstacle = hand().choose({ sort: 'obstacle', id: 1 }).drag([44, 13], [45, 14.5])
    expect(obstacle.site.drawing.obstacles[0].outlineM[2]).toEqual({ x: 45, y: 14.5 })
  })

  it('stays with its path when others are chosen too: then all move', () => {
    const used = hand().choose(wire, row(2)).drag([25, -8], [26, -9], { isFree: true })
    expect(used.done).toMatchObject([{ what: { deed: 'move', items: 2 } }])
    expect(points(used)[1].atM).toEqual({ x: 26, y: -9 })
    expect(rowOfId(used, 2).originM).toEqual({ x: 1, y: 5 })
  })
})
