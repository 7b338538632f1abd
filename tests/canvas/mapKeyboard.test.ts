import { describe, expect, it } from 'vitest'
import { buildGeometry } from '../../src/canvas/geometry.ts'
import { HitIndex } from '../../src/canvas/hitIndex.ts'
import { commandOf, partTowards, type Direction } from '../../src/canvas/mapKeyboard.ts'
import { partText } from '../../src/canvas/mapNames.ts'
import { partOf } from '../../src/state/mapMarks.ts'
import { largeIndex } from '../bench/canvas/largeSite.ts'
import { demoIndex } from './demoIndex.ts'

const geometry = buildGeometry(demoIndex('field'))
const hits = new HitIndex(geometry)

function step(from: string, towards: Direction, leastM = 0.05, toAnyPart = false): string | null {
  const part = partTowards(geometry, hits, partOf(geometry.index, from)!, towards, { leastM, toAnyPart })
  return part < 0 ? null : partText(geometry.index, part)
}

describe('a step', () => {
  it.each([
    ['R1/T1/F1.3', 'right', 'R1/T1/F1.4'],
    ['R1/T1/F1.3', 'left', 'R1/T1/F1.2'],
    ['R1/T1/F1.3', 'up', 'R1/T1/F2.3'],
    ['R1/T1/F2.3', 'down', 'R1/T1/F1.3'],
    ['R1/T1/F1.10', 'right', 'R1/T2/F1.1'],
    ['R2/T3/F2.4', 'up', 'R3/T3/F1.4'],
  ] as const)('from %s to the %s is to %s', (from, towards, to) => {
    expect(step(from, towards)).toBe(to)
  })

  it('leaves members and posts out, unless they are asked for', () => {
    expect(step('R1/T1/F1.3', 'up', 0.05, true)).toMatch(/^R1\/T1\/L/)
  })

  it('is seen at every zoom: it passes over what is too near', () => {
    expect(step('R1/T1/F1.1', 'right', 10)).toMatch(/^R1\/T1\/F1\.10$|^R1\/T2\//)
  })

  it('ends where the site ends, and comes to equipment beside it', () => {
    expect(step('R1/T8/F1.10', 'right')).toBeNull()
    const west: string[] = []
    for (let at: string | null = 'R3/T1/F1.1'; at && west.length < 20; at = step(at, 'left')) west.push(at)
    expect(west.some((address) => !address.startsWith('R'))).toBe(true)
  })

  it('and the step back lead home', () => {
    for (const [towards, back] of [
      ['right', 'left'],
      ['up', 'down'],
    ] as const) {
      expect(step(step('R3/T4/F1.5', towards)!, back)).toBe('R3/T4/F1.5')
    }
  })
})

describe('a step on a large site seen from afar', () => {
  const large = buildGeometry(largeIndex({ rows: 100, tables: 25, bearingDeg: 90 }))
  const largeHits = new HitIndex(large)
  const from = partOf(large.index, 'R50/T12/F2.7')!

  it.each([
    ['right', 'R50/T13/F2.7'],
    ['left', 'R50/T11/F2.7'],
    ['up', 'R51/T12/F2.7'],
    ['down', 'R49/T12/F2.7'],
  ] as const)('goes to the %s to the same module of the next table, %s', (towards, to) => {
    const next = partTowards(large, largeHits, from, towards, { leastM: 6.2, toAnyPart: false })
    expect(partText(large.index, next)).toBe(to)
  })

  it('looks at the tables around it, not at all their modules', () => {
    const looked: number[] = []
    class Counting extends HitIndex {
      override partsIn(...given: Parameters<HitIndex['partsIn']>) {
        const found = super.partsIn(...given)
        looked.push(found.length)
        return found
      }
      override landmarksIn(...given: Parameters<HitIndex['landmarksIn']>) {
        const found = super.landmarksIn(...given)
        looked.push(found.length)
        return found
      }
    }
    for (const leastM of [8, 20, 60]) {
      const next = partTowards(large, new Counting(large), from, 'right', { leastM, toAnyPart: false })
      expect(next).toBeGreaterThan(from)
    }
    expect(looked.length).toBeGreaterThan(0)
    expect(Math.max(...looked)).toBeLessThan(500)
  })
})

describe('a key', () => {
  const press = (key: string, held: object = {}) =>
    commandOf({ key, shiftKey: false, ctrlKey: false, altKey: false, metaKey: false, ...held })

  it('has its command', () => {
    expect(press('ArrowLeft')).toEqual({ order: 'step', towards: 'left', toAnyPart: false })
    expect(press('ArrowLeft', { ctrlKey: true })).toEqual({ order: 'step', towards: 'left', toAnyPart: true })
    expect(press('ArrowLeft', { shiftKey: true })).toEqual({ order: 'pan', towards: 'left' })
    expect(press('+', { shiftKey: true })).toEqual({ order: 'zoom', isIn: true })
    expect(press('F')).toEqual({ order: 'fit' })
    expect(press('Enter')).toEqual({ order: 'pick' })
    expect(press('PageDown')).toEqual({ order: 'suspect', by: 1 })
  })

  it('of the browser or of nobody is left alone', () => {
    expect(press('f', { ctrlKey: true })).toBeNull()
    expect(press('ArrowLeft', { altKey: true })).toBeNull()
    expect(press('l', { metaKey: true })).toBeNull()
    expect(press('q')).toBeNull()
    expect(press('Tab')).toBeNull()
  })
})
