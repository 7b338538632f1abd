import { expect, it } from 'vitest'
import { placeLabels } from '../../src/canvas/overlayLabels.ts'
import { arcBetween } from '../../src/canvas/overlayCurves.ts'
import type { SeenReading } from '../../src/canvas/overlayEdges.ts'
import { labelWishes, middleBox } from '../../src/canvas/overlayReadingLabels.ts'
import { palettes } from '../../src/canvas/palette.ts'
import type { ReadingLook } from '../../src/state/readingLook.ts'

function seen(entry: string, look: ReadingLook, lengthPx: number, isPicked = false): SeenReading {
  const curve = arcBetween({ x: 100, y: 300 }, { x: 100 + lengthPx, y: 300 })
  const mark = { entry, from: 0, to: 1, look, label: '1 Ω', isPicked }
  return {
    mark,
    isNewest: false,
    whole: curve,
    isMiddleMoved: false,
    curve,
    hasStart: true,
    hasEnd: true,
    middleAt: 0.5,
  }
}

const wishesOf = (readings: readonly SeenReading[], hovered: string | null = null) =>
  labelWishes(
    readings,
    palettes.light,
    hovered === null ? null : { kind: 'reading', entry: hovered },
    () => 50,
  )

it('the gravest are asked for first, long ones before short ones, what is chosen or pointed at before all', () => {
  const readings = [
    seen('short', 'within', 120),
    seen('long', 'within', 300),
    seen('bad', 'investigate', 90),
    seen('over', 'overRange', 200),
    seen('chosen', 'within', 110, true),
    seen('pointed', 'setAside', 130),
  ]
  const order = wishesOf(readings, 'pointed').map(({ of }) => of.entry)
  expect(order).toEqual(['chosen', 'pointed', 'bad', 'over', 'long', 'short'])
})

it('a short reading in line has no label unless it is chosen or the newest', () => {
  const newest = { ...seen('d', 'within', 40), isNewest: true }
  const readings = [
    seen('a', 'within', 40),
    seen('b', 'investigate', 40),
    seen('c', 'within', 40, true),
    newest,
  ]
  expect(wishesOf(readings).map(({ of }) => of.entry)).toEqual(['c', 'd', 'b'])
})

it('a label that must be read stands on its own curve, right beyond its end, or is led back to it', () => {
  const taken = { left: 0, top: 0, right: 252, bottom: 600 }
  const bad = seen('bad', 'investigate', 150)
  const within = { left: 0, top: 0, right: 800, bottom: 600 }
  const [{ box, of }] = placeLabels(wishesOf([bad]), [taken], { within, apartPx: 3, most: 5 })
  expect((box.top + box.bottom) / 2).toBeCloseTo(of.curve.y1, 6)
  expect(box.left - of.curve.x1).toBeLessThan(14)
})

it('no label covers the mark of a reading, and a grave one finds room beside its curve', () => {
  const bad = seen('bad', 'investigate', 70)
  const [mark] = middleBox(bad)
  expect(middleBox(seen('plain', 'within', 200))).toEqual([])
  const within = { left: 0, top: 0, right: 800, bottom: 600 }
  const [placed] = placeLabels(wishesOf([bad]), [mark], { within, apartPx: 3, most: 5 })
  expect(placed.of.entry).toBe('bad')
  expect(placed.box.bottom < mark.top || placed.box.top > mark.bottom || placed.box.left > mark.right).toBe(
    true,
  )
})
