import { describe, expect, it } from 'vitest'
import { itemBoxM } from '../../../src/layout/itemBox.ts'
import { checkSite } from '../../../src/model/checkSite.ts'
import type { DrawnItem } from '../../../src/model/drawnItem.ts'
import type { AlignEdge } from '../../../src/model/edits/arrangeItems.ts'
import { alignItems, canAlignItems, spaceEvenly } from '../../../src/model/edits/arrangeItems.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { indexOf } from '../../layout/smallDrawings.ts'
import { deepFreeze } from '../deepFreeze.ts'
import { exampleSite } from '../exampleSite.ts'

const example = exampleSite()
const enclosure = (id: number, x: number, y: number, widthM: number) => ({
  id,
  label: '',
  atM: { x, y },
  widthM,
  depthM: 1,
  bearingDeg: 0,
})
const site = deepFreeze({
  ...example,
  drawing: {
    ...example.drawing,
    nextIds: { ...example.drawing.nextIds, enclosure: 9 },
    enclosures: [
      enclosure(1, 0, 10, 2),
      enclosure(2, 20, 12, 4),
      enclosure(3, 7, 15, 1),
      enclosure(4, 11, 11, 1),
    ],
  },
})
const items: readonly DrawnItem[] = [1, 2, 3, 4].map((id) => ({ sort: 'enclosure', id }))

function boxesOf(of: Site, things: readonly DrawnItem[]) {
  const index = indexOf(of.drawing)
  return things.map((item) => itemBoxM(index, item)!)
}
const nine = (m: number) => Number(m.toFixed(9)) + 0

const aligned = (edge: AlignEdge) => {
  const edited = alignItems({ items, boxes: boxesOf(site, items), edge })(site)
  expect(checkSite(edited)).toEqual([])
  return boxesOf(edited, items)
}

describe('bringing things into line', () => {
  it.each([
    ['left', (box) => box.minX, -1],
    ['right', (box) => box.maxX, 22],
    ['bottom', (box) => box.minY, 9.5],
    ['top', (box) => box.maxY, 15.5],
    ['centreAcross', (box) => (box.minX + box.maxX) / 2, 10.5],
    ['centreUp', (box) => (box.minY + box.maxY) / 2, 12.5],
  ] as readonly [AlignEdge, (box: ReturnType<typeof aligned>[number]) => number, number][])(
    'by %s',
    (edge, sideOf, sideM) => {
      expect(aligned(edge).map((box) => nine(sideOf(box)))).toEqual([sideM, sideM, sideM, sideM])
    },
  )

  it('leaves the outermost, and what lands on the others follows them', () => {
    const both: DrawnItem[] = [items[0], items[1]]
    const edited = alignItems({ items: both, boxes: boxesOf(site, both), edge: 'right' })(site)
    expect(edited.drawing.enclosures[1]).toBe(site.drawing.enclosures[1])
    expect(edited.drawing.enclosures[2]).toBe(site.drawing.enclosures[2])
    expect(edited.drawing.conductors[0].points[2].atM.x).toBe(-3 + 21)
  })

  it('does not arrange a wire that lands somewhere by itself, nor one thing alone', () => {
    const withWire: DrawnItem[] = [items[0], { sort: 'conductor', id: 2 }]
    const boxes = boxesOf(site, withWire)
    expect(alignItems({ items: withWire, boxes, edge: 'left' })(site)).toBe(site)
    const gone = { items: [{ sort: 'row', id: 9 } as const], boxes: [boxes[0]], edge: 'left' } as const
    expect(canAlignItems(site, gone)).toMatchObject({ code: 'edit.notThere' })
  })
})

describe('spacing things evenly', () => {
  it('makes the clear distances equal between the first and the last', () => {
    const edited = spaceEvenly({ items, boxes: boxesOf(site, items), along: 'x' })(site)
    expect(checkSite(edited)).toEqual([])
    const boxes = boxesOf(edited, items)
    // Of 23 m, 8 m are taken: three gaps of 5 m.
    expect(boxes.map(({ minX, maxX }) => [nine(minX), nine(maxX)])).toEqual([
      [-1, 1],
      [18, 22],
      [6, 7],
      [12, 13],
    ])
    expect(boxes.map(({ minY }) => minY)).toEqual(boxesOf(site, items).map(({ minY }) => minY))
    const again = spaceEvenly({ items, boxes, along: 'x' })(edited)
    expect(again).toBe(edited)
  })

  it('goes south to north as well, and by equal overlaps where there is no room', () => {
    const edited = spaceEvenly({ items, boxes: boxesOf(site, items), along: 'y' })(site)
    const up = [0, 3, 1, 2].map((k) => nine(boxesOf(edited, items)[k].minY))
    // Of 6 m, 4 m are taken: three gaps of 2/3 m, to a tenth of a millimetre.
    expect(up).toEqual([9.5, 11.1667, 12.8333, 14.5])
    const high = boxesOf(site, items).map((box) => ({ ...box, minY: box.minY - 1, maxY: box.maxY + 1 }))
    const crowded = spaceEvenly({ items, boxes: high, along: 'y' })(site).drawing.enclosures
    expect([0, 3, 1, 2].map((k) => crowded[k].atM.y)).toEqual([10, 11.6667, 13.3333, 15])
  })

  it('leaves two as they are', () => {
    const two = items.slice(0, 2)
    expect(spaceEvenly({ items: two, boxes: boxesOf(site, two), along: 'x' })(site)).toBe(site)
  })
})
