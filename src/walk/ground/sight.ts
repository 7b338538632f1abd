import { isInside } from '../../layout/itemBox.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import type { Barrier } from './barriers.ts'

/** A stretch from 0 to 1 along a leg. */
export type Stretch = readonly [from: number, to: number]

/** What stands in a walker's way. */
export interface Sight {
  /** Whether a straight leg meets nothing. Touching an edge is no hindrance. */
  isClear(a: PointM, b: PointM): boolean
  /** Stretches of a straight leg that lie in something, ascending and apart. */
  blocked(a: PointM, b: PointM): readonly Stretch[]
}

const touchM = 1e-6

/**
 * Sight among barriers and obstacles, found by a grid of cells. O(things) to make, O(cells crossed and what is in them)
 * to ask.
 */
export function sightAmong(barriers: readonly Barrier[], obstacles: readonly (readonly PointM[])[]): Sight {
  const cellM = cellOf(barriers)
  const cells = new Map<number, number[]>()
  const put = (x: number, y: number, thing: number) => {
    const key = keyOf(x, y)
    const cell = cells.get(key)
    if (!cell) cells.set(key, [thing])
    else if (cell[cell.length - 1] !== thing) cell.push(thing)
  }
  const putBox = (points: readonly PointM[], thing: number) => {
    const [minX, maxX] = rangeOf(points.map(({ x }) => x))
    const [minY, maxY] = rangeOf(points.map(({ y }) => y))
    for (let x = Math.floor(minX / cellM); x <= Math.floor(maxX / cellM); x++) {
      for (let y = Math.floor(minY / cellM); y <= Math.floor(maxY / cellM); y++) put(x, y, thing)
    }
  }
  barriers.forEach((barrier, thing) => {
    const pieces = Math.max(1, Math.ceil(barrier.lengthM / cellM))
    for (let k = 0; k < pieces; k++) {
      const [from, to] = [k, k + 1].map((edge) => (edge / pieces) * barrier.lengthM)
      putBox(
        [
          placeIn(barrier, from, 0),
          placeIn(barrier, to, 0),
          placeIn(barrier, from, barrier.upM),
          placeIn(barrier, to, barrier.upM),
        ],
        thing,
      )
    }
  })
  obstacles.forEach((outline, k) => putBox(outline, barriers.length + k))

  const seen = new Int32Array(barriers.length + obstacles.length).fill(-1)
  let asked = 0
  /** Calls `meet` for each thing near a leg until it returns true. */
  const alongLeg = (a: PointM, b: PointM, meet: (thing: number) => boolean): boolean => {
    asked++
    const steps = Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / cellM))
    for (let k = 0; k < steps; k++) {
      const [x0, x1] = rangeOf([k, k + 1].map((edge) => a.x + (edge / steps) * (b.x - a.x)))
      const [y0, y1] = rangeOf([k, k + 1].map((edge) => a.y + (edge / steps) * (b.y - a.y)))
      for (let x = Math.floor(x0 / cellM); x <= Math.floor(x1 / cellM); x++) {
        for (let y = Math.floor(y0 / cellM); y <= Math.floor(y1 / cellM); y++) {
          for (const thing of cells.get(keyOf(x, y)) ?? []) {
            if (seen[thing] === asked) continue
            seen[thing] = asked
            if (meet(thing)) return true
          }
        }
      }
    }
    return false
  }
  const stretchesIn = (thing: number, a: PointM, b: PointM): readonly Stretch[] => {
    if (thing >= barriers.length) return inOutline(obstacles[thing - barriers.length], a, b)
    const stretch = inBarrier(barriers[thing], a, b)
    return stretch ? [stretch] : []
  }
  return {
    isClear: (a, b) => !alongLeg(a, b, (thing) => stretchesIn(thing, a, b).length > 0),
    blocked(a, b) {
      const found: Stretch[] = []
      alongLeg(a, b, (thing) => {
        found.push(...stretchesIn(thing, a, b))
        return false
      })
      return joined(found)
    },
  }
}

/** A place so far along and up from the corner of a barrier. */
export function placeIn({ corner, along, up }: Barrier, alongM: number, upM: number): PointM {
  return { x: corner.x + alongM * along.x + upM * up.x, y: corner.y + alongM * along.y + upM * up.y }
}

/** Cells about as large as barriers are apart. */
function cellOf(barriers: readonly Barrier[]): number {
  if (barriers.length === 0) return 20
  const mean = barriers.reduce((sum, { upM }) => sum + upM, 0) / barriers.length
  return Math.min(Math.max(3 * mean, 5), 30)
}

const keyOf = (x: number, y: number) => (x + 0x100000) * 0x200000 + (y + 0x100000)

function rangeOf(numbers: readonly number[]): readonly [number, number] {
  return [Math.min(...numbers), Math.max(...numbers)]
}

/** What of a leg lies within a barrier (clipping after Liang and Barsky, 1984). */
function inBarrier({ corner, along, up, lengthM, upM }: Barrier, a: PointM, b: PointM): Stretch | null {
  const dx = b.x - a.x
  const dy = b.y - a.y
  const x = (a.x - corner.x) * along.x + (a.y - corner.y) * along.y
  const y = (a.x - corner.x) * up.x + (a.y - corner.y) * up.y
  const first = clip(x, dx * along.x + dy * along.y, lengthM, 0, 1)
  return first && clip(y, dx * up.x + dy * up.y, upM, first[0], first[1])
}

/** What is left of a stretch where a coordinate that changes evenly lies inside (0, most). */
function clip(at: number, change: number, most: number, from: number, to: number): Stretch | null {
  if (Math.abs(change) < 1e-12) return at > touchM && at < most - touchM ? [from, to] : null
  const enter = (touchM - at) / change
  const leave = (most - touchM - at) / change
  const start = Math.max(from, Math.min(enter, leave))
  const end = Math.min(to, Math.max(enter, leave))
  return start < end || (start === end && from === to) ? [start, end] : null
}

/** What of a leg lies within a closed outline: between its crossings, where it is inside. */
function inOutline(outline: readonly PointM[], a: PointM, b: PointM): readonly Stretch[] {
  const cuts = [0, 1]
  outline.forEach((p, k) => {
    const at = crossing(a, b, p, outline[(k + 1) % outline.length])
    if (at !== null) cuts.push(at)
  })
  cuts.sort((one, other) => one - other)
  const lengthM = Math.hypot(b.x - a.x, b.y - a.y)
  const found: Stretch[] = []
  for (let k = 1; k < cuts.length; k++) {
    const [from, to] = [cuts[k - 1], cuts[k]]
    if ((to - from) * lengthM < 2 * touchM && cuts.length > 2) continue
    // a stretch is in or out as a whole: one that only touches a corner is not in at both places
    const isIn = [0.38, 0.5].every((share) => {
      const at = from + share * (to - from)
      return isInside({ x: a.x + at * (b.x - a.x), y: a.y + at * (b.y - a.y) }, outline)
    })
    if (isIn) found.push([from, to])
  }
  return found
}

/** Where leg a–b, as a portion of it, crosses leg p–q; null where it does not, or runs along it. */
export function crossing(a: PointM, b: PointM, p: PointM, q: PointM): number | null {
  const [dx, dy, ex, ey] = [b.x - a.x, b.y - a.y, q.x - p.x, q.y - p.y]
  const cross = dx * ey - dy * ex
  if (Math.abs(cross) < 1e-12) return null
  const at = ((p.x - a.x) * ey - (p.y - a.y) * ex) / cross
  const there = ((p.x - a.x) * dy - (p.y - a.y) * dx) / cross
  return at >= 0 && at <= 1 && there >= 0 && there <= 1 ? at : null
}

function joined(stretches: readonly Stretch[]): readonly Stretch[] {
  const sorted = [...stretches].sort((one, other) => one[0] - other[0])
  const result: [number, number][] = []
  for (const [from, to] of sorted) {
    const last = result.at(-1)
    if (last && from <= last[1]) last[1] = Math.max(last[1], to)
    else result.push([from, to])
  }
  return result
}
