import { describe, expect, it } from 'vitest'
import { buildGeometry } from '../../src/canvas/geometry.ts'
import { itemWishes, seenItems } from '../../src/canvas/overlayItemNames.ts'
import { doTouch, placeLabels } from '../../src/canvas/overlayLabels.ts'
import type { View } from '../../src/canvas/mapTypes.ts'
import { demoIndex } from './demoIndex.ts'

const geometry = buildGeometry(demoIndex('field'))
const widthOf = (text: string) => 7 * text.length
const room = { left: 0, top: 0, right: 1000, bottom: 700 }
/** The west end of the field in the middle, so many pixels per metre. */
const viewAt = (k: number): View => ({ x: 500, y: 350 + 18 * k, k, widthPx: 1000, heightPx: 700, dpr: 1 })

describe('names of equipment', () => {
  it('stand beside their symbols and on none of them', () => {
    const view = viewAt(12)
    const items = seenItems(geometry, view)
    const taken = items.map(({ box }) => box)
    const placed = placeLabels(itemWishes(items, { view, room, widthOf }), taken, {
      within: room,
      apartPx: 3,
      most: 100,
    })
    expect(placed.map(({ of }) => of.text).sort()).toEqual([
      'Inverter 1',
      'Main earth bar',
      'North rod',
      'South rod',
    ])
    for (const { box } of placed) for (const symbol of taken) expect(doTouch(box, symbol)).toBe(false)
  })

  it('are left out from far away, and of what is out of view', () => {
    const far = viewAt(2)
    expect(itemWishes(seenItems(geometry, far), { view: far, room, widthOf })).toEqual([])
    const near = viewAt(40)
    expect(seenItems(geometry, near).map(({ text }) => text)).not.toContain('North rod')
  })
})
