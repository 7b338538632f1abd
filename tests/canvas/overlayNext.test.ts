import { describe, expect, it } from 'vitest'
import { buildGeometry } from '../../src/canvas/geometry.ts'
import type { View } from '../../src/canvas/mapTypes.ts'
import { toScreen } from '../../src/canvas/mapTypes.ts'
import { partPointM } from '../../src/canvas/markPoints.ts'
import { drawNext, drawNextSample, nextDash, nextGhost } from '../../src/canvas/overlayNext.ts'
import { drawReadingSample, lookStyles } from '../../src/canvas/readingGlyph.ts'
import { nextPair } from '../../src/state/mapMarks.ts'
import type { ReadingLook } from '../../src/state/readingLook.ts'
import { demoIndex } from './demoIndex.ts'
import { recordingContext, type Painted } from './recordingContext.ts'

const index = demoIndex('field')
const geometry = buildGeometry(index)
const pair = nextPair(index, { from: 'R6/T4/L1.6', to: 'R4/T6/L4.11' })!
const ends = [pair.from, pair.to].map((part) => partPointM(geometry, part)!)
const [from, to] = ends
const box = { left: 0, top: 0, right: 1000, bottom: 800 }
const size = { widthPx: 44, heightPx: 26 }
const inks = { line: '#000000', halo: '#ffffff' }

/** Centred between two points of the plan. */
function viewAt(k: number, atM = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 }): View {
  return { x: 500 - k * atM.x, y: 400 + k * atM.y, k, widthPx: 1000, heightPx: 800, dpr: 1 }
}

const shape = (painted: readonly Painted[]) => JSON.stringify(painted.map(({ ink: _, ...rest }) => rest))

describe('the ghost of the next pair', () => {
  it('runs between the two parts, its tag in the middle of the curve', () => {
    const view = viewAt(5)
    const ghost = nextGhost(geometry, pair, view, box)!
    expect(ghost.hasStart && ghost.hasEnd).toBe(true)
    const [a, b] = [toScreen(view, from), toScreen(view, to)]
    expect([ghost.curve.x0, ghost.curve.y0, ghost.curve.x1, ghost.curve.y1]).toEqual([a.x, a.y, b.x, b.y])
    const offMiddle = Math.hypot(ghost.tagAt.x - 500, ghost.tagAt.y - 400)
    expect(offMiddle).toBeLessThan(0.1 * Math.hypot(b.x - a.x, b.y - a.y))
  })

  it('near, only the seen piece is drawn, and the tag stays in sight', () => {
    const ghost = nextGhost(geometry, pair, viewAt(60, from), box)!
    expect(ghost.hasStart).toBe(true)
    expect(ghost.hasEnd).toBe(false)
    expect(ghost.tagAt.x).toBeGreaterThan(box.left)
    expect(ghost.tagAt.x).toBeLessThan(box.right)
    expect(ghost.tagAt.y).toBeGreaterThan(box.top)
    expect(ghost.tagAt.y).toBeLessThan(box.bottom)
    const { context, painted } = recordingContext()
    drawNext(context, ghost, inks)
    expect(painted.filter(({ path, ink }) => path[0].startsWith('arc') && ink === inks.line)).toHaveLength(1)
  })

  it('is not there without a pair, and where none of it is in sight', () => {
    expect(nextGhost(geometry, null, viewAt(5), box)).toBeNull()
    expect(nextGhost(geometry, pair, viewAt(60, { x: from.x + 5000, y: from.y }), box)).toBeNull()
  })

  it('looks like no reading, all in one colour: dashes and dots between open jaws, nothing filled', () => {
    const { context, painted } = recordingContext()
    drawNextSample(context, size, inks)
    for (const look of Object.keys(lookStyles) as ReadingLook[]) {
      const reading = recordingContext()
      drawReadingSample(reading.context, look, size, inks)
      expect(shape(painted)).not.toBe(shape(reading.painted))
      expect(lookStyles[look].dash).not.toEqual(nextDash)
    }
    expect(painted.every(({ by }) => by === 'stroke')).toBe(true)
    const line = painted.find(({ path, ink }) => path[0].startsWith('moveTo') && ink === inks.line)!
    expect(line.dash).toEqual(nextDash)
    const jaws = painted.filter(({ path, ink }) => path[0].startsWith('arc') && ink === inks.line)
    expect(jaws).toHaveLength(2)
    for (const [k, { path }] of jaws.entries()) {
      const [x, , , start, end] = path[0].split(' ').slice(1).map(Number)
      expect(end - start).toBeCloseTo((4 / 3) * Math.PI, 1)
      // the side that is left open looks away from the line
      const opensTo = (start + end) / 2 - Math.PI
      expect(Math.sign(Math.cos(opensTo))).toBe(k === 0 ? -1 : 1)
      expect(x).toBe(k === 0 ? 8 : size.widthPx - 8)
    }
  })
})
