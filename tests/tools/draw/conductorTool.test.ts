import { describe, expect, it } from 'vitest'
import { conductorTool } from '../../../src/tools/draw/conductorTool.ts'
import { idlePath } from '../../../src/tools/draw/pathMachine.ts'
import { smallSite } from './drawSite.ts'
import { Hand, plainMaking } from './hand.ts'

const hand = () => new Hand(conductorTool, smallSite())
const ring = () => hand().making({ conductor: { ...plainMaking.conductor, closed: true } })
type OneHand = ReturnType<typeof hand>
const drawn = ({ site }: OneHand) => site.drawing.conductors.at(-1)!

describe('a conductor', () => {
  it('lands where a part is tapped and bends elsewhere, with a clamp at an electrode', () => {
    const used = hand().tap([20.04, 1]).tap([25, -1]).tap([30, -5]).finish()
    expect(used.edits).toBe(1)
    expect(drawn(used)).toEqual({
      id: 2,
      label: '',
      material: 'copper',
      areaMm2: 16,
      size: 'mm2-16',
      closed: false,
      points: [
        { id: 1, atM: { x: 20, y: 1 }, landing: { part: 'E1', kind: 'crimpLug' } },
        { id: 2, atM: { x: 25, y: -1 }, landing: null },
        { id: 3, atM: { x: 30, y: -5 }, landing: { part: 'G1', kind: 'rodClamp' } },
      ],
      nextPoint: 4,
      lengthM: null,
    })
    expect(used.chosen).toEqual([{ sort: 'conductor', id: 2 }])
    expect(used.state).toBe(idlePath)
  })

  it('bonds rows one after the other', () => {
    const used = hand().tap([0.5, 1]).tap([0.5, 7]).tap([20, -5]).finish()
    expect(drawn(used).points.map(({ landing }) => landing?.part)).toEqual(['R1/T1/F1.1', 'R2/T1/F1.1', 'B1'])
  })

  it.each<[string, (hand: OneHand) => OneHand]>([
    ['finish', (hand) => hand.click([20, 1]).click([26, 1]).finish()],
    ['the last point tapped again', (hand) => hand.tap([20, 1]).tap([26, 1]).tap([26.05, 1])],
    ['two quick taps', (hand) => hand.tap([20, 1]).tap([26, 1]).tap([26, 1]).finish()],
    ['a drag from part to ground and finish', (hand) => hand.drag([20, 1], [26, 1]).finish()],
    ['taps and a drag from the last point', (hand) => hand.tap([20, 1]).drag([20, 1], [26, 1]).finish()],
  ])('ends with %s', (_, draw) => {
    const used = draw(hand())
    expect(used.edits).toBe(1)
    expect(drawn(used).points.map(({ atM }) => atM)).toEqual([
      { x: 20, y: 1 },
      { x: 26, y: 1 },
    ])
    expect(used.state).toBe(idlePath)
  })

  it('goes on through both ends of a drag that begins on another part', () => {
    const used = hand().tap([26, 1]).drag([20, 1], [0.5, 1]).finish()
    expect(drawn(used).points.map(({ landing }) => landing?.part)).toEqual([undefined, 'E1', 'R1/T1/F1.1'])
  })

  it('needs two points, and refuses one part twice running', () => {
    const used = hand().tap([20, 1]).tap([20, 1.05])
    expect(used.told).toEqual({ fact: 'refused', reason: 'samePart' })
    expect(used.finish().told).toEqual({ fact: 'refused', reason: 'tooShort' })
    expect(used.state.points).toHaveLength(1)
    expect(hand().tap([26, 1]).tap([26, 1]).told).toEqual({ fact: 'refused', reason: 'tooShort' })
    expect(used.done).toEqual([])
  })

  it('lands on nothing while snapping is off', () => {
    const used = hand().tap([20, 1], { isFree: true }).tap([20.5, 1.2], { isFree: true }).finish()
    expect(drawn(used).points.map(({ landing }) => landing)).toEqual([null, null])
  })

  it('goes back a point at a time, and is given up', () => {
    const used = hand().tap([20, 1]).tap([25, -1]).tap([26, -1]).back()
    expect(used.state.points).toHaveLength(2)
    expect(used.preview!.lines).toEqual([
      [
        { x: 20, y: 1 },
        { x: 25, y: -1 },
      ],
    ])
    expect(used.back().back().state).toBe(idlePath)
    expect(used.back().state).toBe(idlePath)
    expect(used.tap([20, 1]).tap([25, -1]).cancel().state).toBe(idlePath)
    expect(used.preview).toBe(null)
    expect(used.done).toEqual([])
  })

  it('shows the part that it would land on, else its length so far', () => {
    const used = hand().tap([26, 1]).hover([26, 4])
    expect(used.told).toEqual({ fact: 'path', lengthM: 3, points: 2 })
    expect(used.hover([20, 1]).told).toEqual({ fact: 'land', part: 'E1' })
    expect(used.preview!.snapped).toEqual({ x: 20, y: 1 })
    expect(used.leave().told).toBe(null)
    expect(used.state.points).toHaveLength(1)
  })

  it('owns drags from parts and from its last point; elsewhere the map moves', () => {
    expect(hand().owns([20, 1])).toBe(true)
    expect(hand().owns([26, 1])).toBe(false)
    expect(hand().tap([26, 1]).owns([26, 1])).toBe(true)
    expect(hand().tap([26, 1]).owns([27, 1])).toBe(false)
  })

  it('keeps square to its last leg while held straight', () => {
    const used = hand().tap([50, 50]).tap([53, 54]).tap([49.5, 56.4], { isAdding: true }).finish()
    const { x, y } = drawn(used).points[2].atM
    // 3-4-5: the leg square to (3, 4) runs along (−4, 3).
    expect((x - 53) * 3 + (y - 54) * 4).toBeCloseTo(0, 3)
  })
})

describe('a ring', () => {
  it.each<[string, (hand: OneHand) => OneHand]>([
    ['its first point', (hand) => hand.tap([20, 1.03])],
    ['finish', (hand) => hand.finish()],
  ])('is closed by %s', (_, close) => {
    const used = close(ring().tap([20, 1]).tap([26, 1]).tap([26, 5]))
    expect(used.edits).toBe(1)
    expect(drawn(used)).toMatchObject({ closed: true, points: [{ id: 1 }, { id: 2 }, { id: 3 }] })
  })

  it('needs three points', () => {
    const used = ring().tap([20, 1]).tap([26, 1])
    expect(used.tap([20, 1]).told).toEqual({ fact: 'refused', reason: 'tooShort' })
    expect(used.finish().told).toEqual({ fact: 'refused', reason: 'tooShort' })
    expect(used.done).toEqual([])
  })
})
