import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { nearestToward } from '../../src/ui/nearestToward.ts'
import { placeBeside } from '../../src/ui/placeBeside.ts'
import { movedIndex } from '../../src/ui/roving.ts'
import { nearestHeight, shareOf } from '../../src/ui/sheetHeight.ts'
import { TypeAhead } from '../../src/ui/typeAhead.ts'
import { scrollToShow, windowOf } from '../../src/ui/windowOf.ts'

describe('where a key leads', () => {
  it('in a list, stopping at its ends', () => {
    const to = (key: string, index: number) => movedIndex(key, index, 10, { direction: 'vertical', page: 4 })
    expect([to('ArrowDown', 3), to('ArrowUp', 3), to('ArrowDown', 9), to('ArrowUp', 0)]).toEqual([4, 2, 9, 0])
    expect([to('PageDown', 3), to('PageDown', 8), to('PageUp', 3)]).toEqual([7, 9, 0])
    expect([to('Home', 5), to('End', 5)]).toEqual([0, 9])
    expect([to('ArrowLeft', 5), to('a', 5), to('Enter', 5)]).toEqual([null, null, null])
  })

  it('in a round', () => {
    const to = (key: string, index: number) =>
      movedIndex(key, index, 3, { direction: 'horizontal', isRound: true })
    expect([to('ArrowRight', 2), to('ArrowLeft', 0), to('PageDown', 0)]).toEqual([0, 2, null])
    expect(movedIndex('Home', 0, 0, { direction: 'vertical' })).toBeNull()
  })

  it('on a plane', () => {
    const box = (name: string, left: number, top: number, height = 40) => ({
      name,
      getBoundingClientRect: () => ({ left, top, right: left + 40, bottom: top + height }) as DOMRect,
    })
    const seven = box('7', 0, 0)
    const eight = box('8', 50, 0)
    const four = box('4', 0, 50)
    const tall = box('tall', 100, 0, 90)
    const keys = [seven, eight, four, tall]
    expect(nearestToward('ArrowRight', seven, keys)?.name).toBe('8')
    expect(nearestToward('ArrowDown', seven, keys)?.name).toBe('4')
    expect(nearestToward('ArrowRight', eight, keys)?.name).toBe('tall')
    expect(nearestToward('ArrowLeft', tall, keys)?.name).toBe('8')
    expect(nearestToward('ArrowLeft', seven, keys)).toBeUndefined()
    expect(nearestToward('a', seven, keys)).toBeUndefined()
  })
})

describe('the window of a list', () => {
  it('covers what is seen, and only a few rows more', () => {
    fc.assert(
      fc.property(fc.nat(100_000), fc.integer({ min: 1, max: 3000 }), fc.nat(3000), (top, height, count) => {
        const { first, end } = windowOf(top, height, 44, count)
        expect(first).toBeGreaterThanOrEqual(0)
        expect(end).toBeLessThanOrEqual(count)
        expect(end - first).toBeLessThanOrEqual(Math.ceil(height / 44) + 10)
        for (let row = Math.floor(top / 44); row * 44 < top + height && row < count; row++)
          expect(row >= first && row < end).toBe(true)
      }),
      { seed: 3, numRuns: 300 },
    )
  })

  it('scrolls no farther than it has to', () => {
    expect(scrollToShow(5, 0, 440, 44)).toBe(0)
    expect(scrollToShow(10, 0, 440, 44)).toBe(44)
    expect(scrollToShow(2, 200, 440, 44)).toBe(88)
  })
})

describe('finding by letters', () => {
  const names = ['Row 1', 'Row 12', 'Post 3', 'Rail']
  const nameOf = (index: number) => names[index]

  it('the same letter steps on, further letters narrow down, a pause starts anew', () => {
    const typed = new TypeAhead()
    expect(typed.find('r', 0, 0, 4, nameOf)).toBe(1)
    expect(typed.find('r', 100, 1, 4, nameOf)).toBe(3)
    expect(typed.find('r', 200, 3, 4, nameOf)).toBe(0)
    expect(typed.find('r', 2000, 0, 4, nameOf)).toBe(1)
    expect(typed.find('A', 2100, 1, 4, nameOf)).toBe(3)
    expect(typed.find('p', 4000, 3, 4, nameOf)).toBe(2)
    expect(typed.find('x', 6000, 2, 4, nameOf)).toBeNull()
    expect(typed.find('r', 8000, 0, 0, nameOf)).toBeNull()
  })
})

describe('where things stand', () => {
  it('a popup stays on the screen and beside its button', () => {
    const screen = { width: 360, height: 700 }
    const size = { width: 200, height: 150 }
    const at = (left: number, top: number) =>
      placeBeside({ left, top, right: left + 44, bottom: top + 44 }, size, screen)
    expect(at(10, 10)).toEqual({ left: 10, top: 60 })
    expect(at(310, 10)).toEqual({ left: 152, top: 60 })
    expect(at(10, 650)).toEqual({ left: 10, top: 494 })
    expect(
      placeBeside({ left: 0, top: 0, right: 44, bottom: 44 }, { width: 900, height: 900 }, screen),
    ).toEqual({
      left: 8,
      top: 8,
    })
  })

  it('a sheet that is let go rests at the height it was pulled toward', () => {
    expect(nearestHeight(0.46, 'half')).toBe('half')
    expect(nearestHeight(0.55, 'half')).toBe('full')
    expect(nearestHeight(0.35, 'half')).toBe('low')
    expect(nearestHeight(shareOf.full, 'low')).toBe('full')
    expect(nearestHeight(0.4, 'low')).toBe('half')
    expect(nearestHeight(0.1, 'low')).toBe('low')
  })
})
