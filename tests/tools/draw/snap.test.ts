import { describe, expect, it } from 'vitest'
import type { RandomStream } from '../../../src/base/random.ts'
import { randomStream } from '../../../src/base/random.ts'
import { distanceM } from '../../../src/layout/path.ts'
import type { PointM } from '../../../src/model/schema/primitives.ts'
import { turnBetweenDeg } from '../../../src/tools/draw/bearing.ts'
import type { Snapped, SnapOptions } from '../../../src/tools/draw/snap.ts'
import { snapTo } from '../../../src/tools/draw/snap.ts'

const options = (change: Partial<SnapOptions> = {}, anchors: readonly PointM[] = []): SnapOptions => ({
  isFree: false,
  gridM: 0,
  anchorsNear: () => anchors,
  ...change,
})
const part = { address: 'B1', atM: { x: 3.05, y: 2 } }

describe('a place snaps', () => {
  it('to the grid, to whole tenths and no further digits', () => {
    expect(snapTo({ x: 0.32, y: -0.04 }, 0.01, options({ gridM: 0.1 }))).toEqual({
      atM: { x: 0.3, y: 0 },
      guides: [],
      onto: 'grid',
      bearingDeg: null,
    })
  })

  it('to an end within reach before the grid, to nothing beyond', () => {
    const ends = options({ gridM: 1 }, [{ x: 2.3, y: 2.4 }])
    expect(snapTo({ x: 2.25, y: 2.45 }, 0.1, ends)).toMatchObject({ atM: { x: 2.3, y: 2.4 }, onto: 'anchor' })
    expect(snapTo({ x: 1.1, y: 1.1 }, 0.1, ends)).toMatchObject({ atM: { x: 1, y: 1 }, onto: 'grid' })
    expect(snapTo({ x: 1.1, y: 1.2 }, 0.1, options())).toMatchObject({ atM: { x: 1.1, y: 1.2 }, onto: null })
  })

  it('to the part that it lands on before everything', () => {
    const here = options({ part, gridM: 1, fromM: { x: 0, y: 0 }, isStraight: true }, [{ x: 3, y: 2 }])
    expect(snapTo({ x: 3, y: 2 }, 0.1, here)).toMatchObject({ atM: part.atM, onto: 'part' })
  })

  it('in line with an end, the other way to the grid, and shows along what', () => {
    const end = { x: 2.3, y: 7 }
    const snapped = snapTo({ x: 2.25, y: 1.2 }, 0.1, options({ gridM: 0.5 }, [end]))
    expect(snapped).toMatchObject({ atM: { x: 2.3, y: 1 }, onto: 'aligned' })
    expect(snapped.guides).toEqual([[end, { x: 2.3, y: 1 }]])
  })

  it('in line with what is near before what is far, though that is a little less off', () => {
    const ends = [
      { x: 2.3, y: 5 },
      { x: 2.26, y: -5 },
    ]
    const near = options({
      anchorsNear: (at, withinM) => ends.filter((end) => distanceM(end, at) <= withinM),
    })
    expect(snapTo({ x: 2.25, y: 4.7 }, 0.1, near).atM).toEqual({ x: 2.3, y: 4.7 })
    expect(snapTo({ x: 2.25, y: 0 }, 0.1, near).atM).toEqual({ x: 2.26, y: 0 })
  })

  it('in line with two ends at once', () => {
    const ends = [
      { x: 2.3, y: 7 },
      { x: 9, y: 1.25 },
    ]
    const snapped = snapTo({ x: 2.25, y: 1.2 }, 0.1, options({ gridM: 0.5 }, ends))
    expect(snapped.atM).toEqual({ x: 2.3, y: 1.25 })
    expect(snapped.guides).toHaveLength(2)
  })

  it('in line with the end of a row that stands aslant, in steps of the grid from it', () => {
    // 5 m along bearing 30° from the end, a little to the side: on the line, 5 m off.
    const alongDeg = 30
    const at = { x: 2.5 + 0.02, y: 5 * Math.cos(Math.PI / 6) - 0.01 }
    const { atM, onto } = snapTo(at, 0.1, options({ gridM: 0.5, alongDeg }, [{ x: 0, y: 0 }]))
    expect(onto).toBe('aligned')
    expect(atM).toEqual({ x: 2.5, y: 4.3301 })
  })

  it('held straight, to eighths of a turn and square to the leg before, with the bearing exact', () => {
    const straight = options({ fromM: { x: 0, y: 0 }, isStraight: true, gridM: 0.5 })
    expect(snapTo({ x: 4.2, y: 0.9 }, 0.1, straight)).toMatchObject({ atM: { x: 4, y: 0 }, bearingDeg: 90 })
    expect(snapTo({ x: 3, y: 2.6 }, 0.1, straight)).toMatchObject({ onto: 'direction', bearingDeg: 45 })
    const square = { ...straight, straightDeg: 20 }
    expect(snapTo({ x: -2, y: 5.6 }, 0.1, square)).toMatchObject({ bearingDeg: 0 })
    expect(snapTo({ x: 2, y: 5.6 }, 0.1, square)).toMatchObject({ bearingDeg: 20 })
    expect(snapTo({ x: -5, y: 2 }, 0.1, square)).toMatchObject({ bearingDeg: 290 })
  })

  it('held straight, in line with what the ray passes', () => {
    const straight = options({ fromM: { x: 0, y: 0 }, isStraight: true, gridM: 1 }, [{ x: 4.3, y: 9 }])
    expect(snapTo({ x: 4.25, y: 0.4 }, 0.1, straight).atM).toEqual({ x: 4.3, y: 0 })
  })

  it('to a direction that catches, only near to it', () => {
    const caught = options({ fromM: { x: 0, y: 0 }, catchDeg: [97.5] })
    expect(snapTo({ x: 10, y: -1.35 }, 0.1, caught)).toMatchObject({ bearingDeg: 97.5, onto: 'direction' })
    expect(snapTo({ x: 10, y: -2 }, 0.1, caught)).toMatchObject({ bearingDeg: null, onto: null })
    expect(snapTo({ x: -10, y: 1.35 }, 0.1, caught)).toMatchObject({ bearingDeg: null, onto: null })
  })
})

function anyCase(random: RandomStream): { at: PointM; reachM: number; options: SnapOptions } {
  const place = (): PointM => ({ x: 20 * random.uniform() - 10, y: 20 * random.uniform() - 10 })
  const anchors = Array.from({ length: random.integer(8) }, place)
  const alongDeg = [null, 0, 90, 360 * random.uniform()][random.integer(4)]
  const gridM = [0, 0.1, 0.25, 1][random.integer(4)]
  return { at: place(), reachM: 0.05 + random.uniform(), options: options({ gridM, alongDeg }, anchors) }
}

const strength = ({ onto, guides }: Snapped) =>
  onto === 'anchor' ? 4 : onto === 'aligned' ? 1 + guides.length : onto === 'grid' ? 1 : 0

describe('wherever the pointer is', () => {
  const random = randomStream(7)
  const cases = Array.from({ length: 3000 }, () => anyCase(random))

  it('a place keeps within reach of the pointer, or goes to the grid line next to it', () => {
    for (const { at, reachM, options } of cases) {
      const { atM, onto, guides } = snapTo(at, reachM, options)
      const offM = distanceM(at, atM)
      const slackM = 1e-4
      if (onto === 'anchor') expect(offM).toBeLessThanOrEqual(reachM + slackM)
      if (onto === 'grid') expect(offM).toBeLessThanOrEqual(options.gridM * Math.SQRT1_2 + slackM)
      if (onto === null) expect(offM).toBeLessThanOrEqual(slackM)
      if (onto === 'aligned') {
        const freeM = guides.length === 2 ? reachM : options.gridM / 2
        expect(offM).toBeLessThanOrEqual(Math.hypot(reachM, freeM) + slackM)
      }
    }
  })

  it('a snapped place snapped again stays, unless something nearer now takes it; then it stays', () => {
    for (const { at, reachM, options } of cases) {
      let snapped = snapTo(at, reachM, options)
      for (let k = 0; k < 3; k++) {
        const again = snapTo(snapped.atM, reachM, options)
        const isStill = distanceM(again.atM, snapped.atM) <= 2e-4
        if (!isStill) expect(strength(again)).toBeGreaterThan(strength(snapped))
        snapped = again
      }
      expect(distanceM(snapTo(snapped.atM, reachM, options).atM, snapped.atM)).toBeLessThanOrEqual(2e-4)
    }
  })

  it('an end within reach wins over lines and grid', () => {
    for (const { at, reachM, options } of cases) {
      const anchors = options.anchorsNear(at, reachM)
      const hasEnd = anchors.some((anchor) => distanceM(at, anchor) <= reachM)
      expect(snapTo(at, reachM, options).onto === 'anchor').toBe(hasEnd)
    }
  })

  it('nothing snaps when snapping is off, and every place is in tenths of a millimetre', () => {
    for (const { at, reachM, options } of cases) {
      const free = snapTo(at, reachM, {
        ...options,
        isFree: true,
        part,
        fromM: { x: 0, y: 0 },
        isStraight: true,
      })
      expect(free.onto).toBe(null)
      expect(distanceM(free.atM, at)).toBeLessThan(1e-4)
      for (const { atM } of [free, snapTo(at, reachM, options)]) {
        expect(Number(atM.x.toFixed(4))).toBe(atM.x)
        expect(Number(atM.y.toFixed(4))).toBe(atM.y)
      }
    }
  })

  it('does not depend on the order in which ends are given', () => {
    for (const { at, reachM, options } of cases) {
      const anchors = options.anchorsNear(at, reachM)
      const turned = { ...options, anchorsNear: () => anchors.toReversed() }
      expect(snapTo(at, reachM, turned).atM).toEqual(snapTo(at, reachM, options).atM)
    }
  })

  it('held straight, it lies on the ray', () => {
    for (const { at, reachM, options } of cases) {
      const fromM = { x: 0.5, y: -0.25 }
      const { atM, bearingDeg } = snapTo(at, reachM, { ...options, fromM, isStraight: true })
      const lengthM = distanceM(fromM, atM)
      if (lengthM < 0.1) continue
      const drawnDeg = (Math.atan2(atM.x - fromM.x, atM.y - fromM.y) * 180) / Math.PI
      expect(Math.abs(turnBetweenDeg(bearingDeg!, drawnDeg)) * lengthM).toBeLessThan(0.02)
    }
  })
})
