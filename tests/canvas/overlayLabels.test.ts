import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { doTouch, isInside, placeLabels, type LabelWish } from '../../src/canvas/overlayLabels.ts'

const within = { left: 0, top: 0, right: 400, bottom: 300 }
const wish = (of: string, ...places: [number, number][]): LabelWish<string> => ({
  of,
  places: places.map(([x, y]) => ({ x, y })),
  widthPx: 50,
  heightPx: 20,
})
const namesOf = (placed: readonly { readonly of: string }[]) => placed.map(({ of }) => of)

describe('labels', () => {
  it('never touch one another, what is taken, or the edge', () => {
    const place = fc.record({
      x: fc.double({ min: -50, max: 450, noNaN: true }),
      y: fc.double({ min: -50, max: 350, noNaN: true }),
    })
    const wishes = fc.array(
      fc.record({
        of: fc.nat(),
        places: fc.array(place, { minLength: 1, maxLength: 4 }),
        widthPx: fc.integer({ min: 10, max: 90 }),
        heightPx: fc.constant(18),
      }),
      { maxLength: 60 },
    )
    const taken = [{ left: 100, top: 100, right: 160, bottom: 150 }]
    fc.assert(
      fc.property(wishes, (wishes) => {
        const placed = placeLabels(wishes, taken, { within, apartPx: 3, most: 40 })
        placed.forEach(({ box }, i) => {
          expect(isInside(box, within)).toBe(true)
          for (const other of [...taken, ...placed.slice(0, i).map(({ box }) => box)]) {
            expect(doTouch(box, other, 3)).toBe(false)
          }
        })
      }),
      { seed: 7 },
    )
  })

  it('the first comes first; the next goes to its second place or is left out', () => {
    const wishes = [wish('a', [100, 100]), wish('b', [110, 105], [110, 160]), wish('c', [105, 98])]
    const placed = placeLabels(wishes, [], { within, apartPx: 2, most: 10 })
    expect(namesOf(placed)).toEqual(['a', 'b'])
    expect(placed[1].box).toEqual({ left: 85, top: 150, right: 135, bottom: 170 })
  })

  it('are as many as there may be', () => {
    const wishes = [wish('a', [50, 50]), wish('b', [150, 50]), wish('c', [250, 50])]
    expect(namesOf(placeLabels(wishes, [], { within, apartPx: 2, most: 2 }))).toEqual(['a', 'b'])
  })
})
