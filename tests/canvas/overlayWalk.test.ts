import { describe, expect, it } from 'vitest'
import { drawWalk, type WalkContext } from '../../src/canvas/drawWalk.ts'
import { walkMarks } from '../../src/canvas/overlayWalk.ts'
import { palettes } from '../../src/canvas/palette.ts'
import type { SetUpPath, WalkPath } from '../../src/model/walkPath.ts'
import { recordingContext } from './recordingContext.ts'

const line = (...numbers: number[]) => Float64Array.from(numbers)
const setUp = (change: Partial<SetUpPath>): SetUpPath => ({
  clipM: { x: 0, y: 0 },
  approachM: line(),
  roundM: line(),
  farM: line(),
  ...change,
})
/** East along a row, round its end, and back west behind it. */
const path: WalkPath = {
  setUps: [
    setUp({ clipM: { x: 2, y: 1 }, roundM: line(2, 0, 8, 0, 2, 0) }),
    setUp({
      clipM: { x: 5, y: 4 },
      approachM: line(2, 0, 30, 0, 30, 5, 5, 5),
      roundM: line(5, 5, 9, 5, 5, 5),
    }),
  ],
}
const view = { x: 20, y: 220, k: 10, widthPx: 400, heightPx: 300, dpr: 1 }
const room = { left: 0, top: 0, right: 400, bottom: 300 }
const widthOf = (text: string) => 7 * text.length

describe('a walk on the screen', () => {
  it('has ways, rounds, clips and numbers in the order of walking, north up', () => {
    const { ways, rounds, clips, plates } = walkMarks(path, view, room, widthOf)
    expect(ways).toEqual([
      [
        { x: 40, y: 220 },
        { x: 320, y: 220 },
        { x: 320, y: 170 },
        { x: 70, y: 170 },
      ],
    ])
    expect(rounds.length).toBe(2)
    expect(clips).toEqual([
      { x: 40, y: 210 },
      { x: 70, y: 180 },
    ])
    expect(plates.map(({ of }) => of)).toEqual(['1', '2'])
  })

  it('has heads that point where one walks, on the legs that are long enough', () => {
    const { heads } = walkMarks(path, view, room, widthOf)
    expect(heads.length).toBe(Math.floor((280 + 50 + 250) / 130))
    expect(heads[0].towards).toEqual({ x: 1, y: 0 })
    expect(heads.at(-1)?.towards).toEqual({ x: -1, y: 0 })
    for (const { at } of heads) expect([220, 170]).toContain(at.y)
  })

  it('of a hundred set-ups from afar shows the first, the last and every tenth, near all of them', () => {
    const many: WalkPath = {
      setUps: Array.from({ length: 97 }, (_, s) => {
        const from = { x: s % 10, y: Math.floor(s / 10) }
        return setUp({
          clipM: { x: 10 * from.x, y: 8 * from.y },
          approachM: line(10 * from.x - 10, 0, 10 * from.x, 0),
        })
      }),
    }
    const afar = walkMarks(many, { ...view, k: 3 }, room, widthOf)
    expect(afar.clips.length).toBe(11)
    expect(afar.plates.every(({ of }) => ['1', '97'].includes(of) || Number(of) % 10 === 0)).toBe(true)
    expect(afar.heads).toEqual([])
    const wide = { left: 0, top: 0, right: 2000, bottom: 1200 }
    const near = { x: 20, y: 1100, k: 12, widthPx: 2000, heightPx: 1200, dpr: 1 }
    expect(walkMarks(many, near, wide, widthOf).clips.length).toBe(97)
  })

  it('is cut to what is seen', () => {
    const { ways, clips, plates } = walkMarks(path, { ...view, x: -100 }, room, widthOf)
    expect(ways.flat().every(({ x }) => x >= -24)).toBe(true)
    expect(ways.length).toBe(1)
    expect(clips).toEqual([])
    expect(plates).toEqual([])
    const away = walkMarks(path, { ...view, x: -5000 }, room, widthOf)
    expect(away.ways).toEqual([])
    expect(away.heads).toEqual([])
  })

  it('leaves rounds out from afar, and numbers that would lie on others', () => {
    const far = walkMarks(path, { ...view, k: 0.5 }, room, widthOf)
    expect(far.rounds).toEqual([])
    const crowd = { setUps: Array.from({ length: 40 }, (_, k) => setUp({ clipM: { x: k / 100, y: 0 } })) }
    const { plates } = walkMarks(crowd, view, room, widthOf)
    expect(plates[0].of).toBe('1')
    expect(plates.length).toBeLessThan(6)
    plates.forEach(({ box: a }, i) => {
      for (const { box: b } of plates.slice(i + 1)) {
        expect(a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top).toBe(true)
      }
    })
  })

  it('is told apart without colour: solid ways, dashed rounds, a rim below everything', () => {
    const { context, painted } = recordingContext()
    const texts: string[] = []
    const walkContext: WalkContext = Object.assign(context, {
      roundRect: () => undefined,
      fillText: (text: string) => void texts.push(text),
      font: '',
      textAlign: 'left' as const,
      textBaseline: 'top' as const,
    })
    const palette = palettes.sunlight
    drawWalk(walkContext, walkMarks(path, view, room, widthOf), palette)
    expect(texts).toEqual(['1', '2'])
    const inked = painted.filter(({ by, ink }) => by === 'stroke' && ink === palette.label)
    expect(new Set(inked.map(({ dash }) => dash.length > 0))).toEqual(new Set([true, false]))
    expect(new Set(painted.map(({ ink }) => ink))).toEqual(new Set([palette.halo, palette.label]))
    const ways = inked.filter(({ dash }) => dash.length === 0)
    const rounds = inked.filter(({ dash }) => dash.length > 0)
    expect(Math.min(...ways.map(({ widthPx }) => widthPx))).toBeGreaterThan(
      Math.max(...rounds.map(({ widthPx }) => widthPx)),
    )
  })
})
