import { describe, expect, it } from 'vitest'
import type { DrawnItem } from '../../../src/model/drawnItem.ts'
import { toolOf } from '../../../src/tools/draw/tools.ts'
import { smallSite } from './drawSite.ts'
import { Hand } from './hand.ts'

const tool = toolOf('block')
const row: DrawnItem = { sort: 'row', id: 2 }
const hand = () => new Hand(tool, smallSite()).choose(row)
const origins = ({ site }: Hand<unknown>) => site.drawing.rows.slice(2).map(({ originM }) => originM)
const at = [0.2, 6.1] as const

describe('repeating what is chosen', () => {
  it('by a drag for the first copy, then copies as far as the pointer goes, and a tap', () => {
    const used = hand().pull(at, [0.5, 12.1])
    expect(used.told).toEqual({ fact: 'copies', copies: 1, byM: { x: 0, y: 6 }, pitchM: 6 })
    used.drop(at, [0.5, 12.1]).hover([1, 24])
    expect(used.told).toEqual({ fact: 'copies', copies: 3, byM: { x: 0, y: 6 }, pitchM: 6 })
    expect(used.preview!.outlines.map(([first]) => first)).toEqual([
      { x: 0, y: 12 },
      { x: 0, y: 18 },
      { x: 0, y: 24 },
    ])
    expect(used.edits).toBe(0)
    used.tap([1, 24])
    expect(used.edits).toBe(1)
    expect(origins(used)).toEqual([
      { x: 0, y: 12 },
      { x: 0, y: 18 },
      { x: 0, y: 24 },
    ])
    expect(used.done).toMatchObject([{ what: { deed: 'copy', items: 1, copies: 3 } }])
    expect(used.chosen.map(({ id }) => id)).toEqual([3, 4, 5])
    expect(used.state).toBe(tool.idle)
  })

  it.each<[string, (hand: Hand<unknown>) => Hand<unknown>, number]>([
    ['three taps', (hand) => hand.tap(at).tap([0.2, 12.1]).tap([0.2, 18.3]), 2],
    ['two taps and finish', (hand) => hand.tap(at).tap([0.2, 12.1]).finish(), 1],
    ['two drags', (hand) => hand.drag(at, [0.2, 12.1]).drag([3, 12], [3, 24.5]), 3],
    ['a drag, a look further and finish', (hand) => hand.drag(at, [0.2, 12.1]).hover([0, 17]).finish(), 2],
  ])('by %s', (_, repeat, copies) => {
    const used = repeat(hand())
    expect(used.edits).toBe(1)
    expect(origins(used)).toHaveLength(copies)
    expect(origins(used)[0]).toEqual({ x: 0, y: 12 })
  })

  it('square to the rows unless snapping is off', () => {
    expect(hand().pull(at, [1.2, 12.1]).told).toMatchObject({ byM: { x: 0, y: 6 } })
    expect(hand().pull(at, [12.2, 7.1]).told).toMatchObject({ byM: { x: 12, y: 0 } })
    expect(hand().pull(at, [1.2, 12.1], { isFree: true }).told).toMatchObject({ byM: { x: 1, y: 6 } })
  })

  it('at the typed pitch by one drag, as many as fit to where it ends', () => {
    const used = hand().making({ block: { pitchM: 7.5, copies: null } })
    expect(used.pull(at, [1, 28]).told).toEqual({
      fact: 'copies',
      copies: 3,
      byM: { x: 0, y: 7.5 },
      pitchM: 7.5,
    })
    used.drop(at, [1, 28])
    expect(origins(used).map(({ y }) => y)).toEqual([13.5, 21, 28.5])
  })

  it('the typed number of times, at the pitch that is drawn', () => {
    const used = hand()
      .making({ block: { pitchM: null, copies: 12 } })
      .drag(at, [0.2, 12.1])
    expect(used.edits).toBe(1)
    expect(origins(used)).toHaveLength(12)
  })

  it('shows a box for each copy where they are too many', () => {
    const used = hand()
      .making({ block: { pitchM: 3, copies: 5000 } })
      .pull(at, [0.2, 12.1])
    expect(used.preview!.outlines).toHaveLength(300)
  })

  it('needs something chosen; a tap on another thing chooses it', () => {
    const nothing = new Hand(tool, smallSite()).tap([50, 50])
    expect(nothing.told).toEqual({ fact: 'refused', reason: 'nothingChosen' })
    expect(hand().tap([5, 0.5]).chosen).toEqual([{ sort: 'row', id: 1 }])
    expect(hand().tap([5, 0.5], { isAdding: true }).chosen).toEqual([row, { sort: 'row', id: 1 }])
  })

  it('refuses copies on top of what is there', () => {
    const used = hand().tap(at).tap(at)
    expect(used.told).toEqual({ fact: 'refused', reason: 'tooShort' })
    expect(used.finish().done).toEqual([])
  })

  it('goes back a step at a time, and is given up', () => {
    const used = hand().drag(at, [0.2, 12.1]).back()
    expect(used.tap([0.2, 14.1]).told).toMatchObject({ byM: { x: 0, y: 8 } })
    expect(used.back().back().state).toBe(tool.idle)
    expect(used.drag(at, [0.2, 12.1]).cancel().state).toBe(tool.idle)
    expect(used.done).toEqual([])
  })

  it('takes a drag back that is broken off, and keeps what was tapped or set', () => {
    expect(hand().pull(at, [0.2, 12.1]).leave().state).toBe(tool.idle)
    const tapped = hand().tap(at).pull([3, 3], [0.2, 12.1]).leave()
    expect(tapped.tap([0.2, 12.1]).finish().edits).toBe(1)
    const pitched = hand().drag(at, [0.2, 12.1]).pull([3, 3], [0.2, 24.1]).leave()
    expect(pitched.told).toMatchObject({ byM: { x: 0, y: 6 } })
    expect(pitched.finish().edits).toBe(1)
  })

  it('owns every drag while something is chosen, and none where nothing is', () => {
    expect(hand().owns(at)).toBe(true)
    expect(hand().owns([50, 50])).toBe(true)
    expect(new Hand(tool, smallSite()).owns([50, 50])).toBe(false)
    expect(hand().tap(at).owns([50, 50])).toBe(true)
  })
})
