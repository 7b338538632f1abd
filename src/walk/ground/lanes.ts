import type { PointM } from '../../model/schema/primitives.ts'
import type { Barrier } from './barriers.ts'
import { placeIn, type Sight, type Stretch } from './sight.ts'

/** A walker keeps so far from tables and obstacles; what is nearer to each other than this is not walked between. */
export const clearM = 0.25

/** A line along one side of a barrier, from one corner of its surroundings to the next. */
export interface Lane {
  readonly barrier: number
  readonly isUpper: boolean
  readonly start: PointM
  readonly along: PointM
  /** Away from the barrier. */
  readonly outward: PointM
  readonly lengthM: number
  /** Stretches in metres that can be walked. */
  readonly free: readonly Stretch[]
}

/**
 * A piece of a lane, or of two that face each other across ground that can be crossed anywhere between: place x on the
 * first is opposite place `turn · x + shiftM` on the second, `widthM` away.
 */
export interface Strip {
  readonly lane: number
  readonly fromM: number
  readonly toM: number
  readonly facing: Facing | null
}

export interface Facing {
  readonly lane: number
  readonly turn: 1 | -1
  readonly shiftM: number
  readonly widthM: number
}

/** Two lanes further apart have open ground between them, which is walked by its corners. */
const mostFacingM = 30
/** Sine of the angle up to which two lanes are taken for parallel. */
const parallelSine = 1e-3
const shortestM = 0.05
/** A walker steps round what is smaller than this between two lanes. */
const scanM = 1.5

/** Both long sides of each barrier: the lower one of barrier b is lane 2b, the upper one 2b + 1. */
export function lanesOf(barriers: readonly Barrier[], sight: Sight): readonly Lane[] {
  return barriers.flatMap((barrier, b) =>
    [false, true].map((isUpper): Lane => {
      const { along, up, upM } = barrier
      const lengthM = barrier.lengthM + 2 * clearM
      const start = placeIn(barrier, -clearM, isUpper ? upM + clearM : -clearM)
      const end = { x: start.x + lengthM * along.x, y: start.y + lengthM * along.y }
      const outward = isUpper ? up : { x: -up.x, y: -up.y }
      const taken = sight.blocked(start, end).map(([from, to]): Stretch => [from * lengthM, to * lengthM])
      return { barrier: b, isUpper, start, along, outward, lengthM, free: without([[0, lengthM]], taken) }
    }),
  )
}

export function placeOn({ start, along }: Lane, alongM: number): PointM {
  return { x: start.x + alongM * along.x, y: start.y + alongM * along.y }
}

/** Place along a lane, outside of it too, that is nearest to a point, and how far outward of it the point is. */
export function onLane({ start, along, outward }: Lane, { x, y }: PointM): { alongM: number; outM: number } {
  const [dx, dy] = [x - start.x, y - start.y]
  return { alongM: dx * along.x + dy * along.y, outM: dx * outward.x + dy * outward.y }
}

/**
 * All that can be walked of the lanes, cut into strips: the nearest lanes that face each other first, then what is left
 * of each alone. About O(lanes · those within reach).
 */
export function stripsOf(lanes: readonly Lane[], sight: Sight): readonly Strip[] {
  const left = lanes.map(({ free }) => free)
  const strips: Strip[] = []
  for (const { lane, facing } of facingPairs(lanes)) {
    const back = (x: number) => (x - facing.shiftM) * facing.turn
    const opposite = left[facing.lane].map(([from, to]) => ordered(back(from), back(to)))
    const common = bothOf(left[lane], opposite)
    if (common.length === 0) continue
    const open = without(common, between(lanes, sight, lane, facing, common))
    if (open.length === 0) continue
    for (const [fromM, toM] of open) strips.push({ lane, fromM, toM, facing })
    left[lane] = without(left[lane], open)
    const there = open.map(([from, to]) =>
      ordered(facing.turn * from + facing.shiftM, facing.turn * to + facing.shiftM),
    )
    left[facing.lane] = without(left[facing.lane], facing.turn === 1 ? there : there.reverse())
  }
  left.forEach((stretches, lane) => {
    for (const [fromM, toM] of stretches) strips.push({ lane, fromM, toM, facing: null })
  })
  return strips
}

/** Lanes that face each other, the nearest first. */
function facingPairs(lanes: readonly Lane[]): readonly { readonly lane: number; readonly facing: Facing }[] {
  const pairs: { readonly lane: number; readonly facing: Facing }[] = []
  for (const group of byDirection(lanes)) {
    const { outward } = lanes[group[0]]
    const offsetM = group.map((l) => lanes[l].start.x * outward.x + lanes[l].start.y * outward.y)
    const order = [...group.keys()].sort((i, k) => offsetM[i] - offsetM[k] || group[i] - group[k])
    order.forEach((i, place) => {
      for (let next = place - 1; next >= 0 && offsetM[i] - offsetM[order[next]] < 2 * clearM; next--) {
        put(group[i], group[order[next]])
      }
      for (let next = place + 1; next < order.length; next++) {
        if (offsetM[order[next]] - offsetM[i] > mostFacingM + 1) break
        put(group[i], group[order[next]])
      }
    })
  }
  return pairs.sort((one, other) => one.facing.widthM - other.facing.widthM || one.lane - other.lane)

  function put(one: number, other: number): void {
    const facing = facingOf(lanes[one], lanes[other], other)
    if (facing) pairs.push({ lane: one, facing })
  }
}

/** How one lane faces another that lies outward of it; null where it does not. */
function facingOf(one: Lane, other: Lane, number: number): Facing | null {
  if (one.outward.x * other.outward.x + one.outward.y * other.outward.y > -0.99) return null
  const sine = one.along.x * other.along.y - one.along.y * other.along.x
  if (Math.abs(sine) > parallelSine) return null
  const a = onLane(one, other.start)
  const b = onLane(one, placeOn(other, other.lengthM))
  const turn = b.alongM > a.alongM ? 1 : -1
  const [from, to] = ordered(a.alongM, b.alongM)
  if (to < shortestM || from > one.lengthM - shortestM) return null
  const outM = (a.outM + b.outM) / 2
  if (outM <= clearM - 2 * clearM || outM > mostFacingM) return null
  const widthM = Math.max(Math.abs(a.outM), Math.abs(b.outM))
  // x = a.alongM + turn · y on this lane for place y of the other one
  return { lane: number, turn, shiftM: -turn * a.alongM, widthM }
}

/** Lanes in about the same or the opposite direction; those beside the borders of a class stay unpaired. */
function byDirection(lanes: readonly Lane[]): readonly (readonly number[])[] {
  const groups = new Map<number, number[]>()
  lanes.forEach(({ along }, l) => {
    const angle = (Math.atan2(along.y, along.x) / Math.PI + 1) % 1
    const key = Math.round(angle * 900) % 900
    const group = groups.get(key)
    if (group) group.push(l)
    else groups.set(key, [l])
  })
  return [...groups.values()]
}

/** Stretches of a lane where something stands between it and the one that it faces. */
function between(
  lanes: readonly Lane[],
  sight: Sight,
  lane: number,
  { widthM }: Facing,
  common: readonly Stretch[],
): readonly Stretch[] {
  const { outward } = lanes[lane]
  const rows = Math.floor(widthM / scanM)
  const taken: Stretch[] = []
  for (const [from, to] of common) {
    const [a, b] = [placeOn(lanes[lane], from), placeOn(lanes[lane], to)]
    for (let k = 1; k <= rows; k++) {
      const outM = (k / (rows + 1)) * widthM
      const shifted = ({ x, y }: PointM) => ({ x: x + outM * outward.x, y: y + outM * outward.y })
      for (const [start, end] of sight.blocked(shifted(a), shifted(b))) {
        taken.push([from + start * (to - from), from + end * (to - from)])
      }
    }
  }
  return taken
}

const ordered = (a: number, b: number): Stretch => (a <= b ? [a, b] : [b, a])

/** What lies in stretches of both lists. */
function bothOf(one: readonly Stretch[], other: readonly Stretch[]): readonly Stretch[] {
  return one.flatMap(([from, to]) =>
    other
      .map(([start, end]): Stretch => [Math.max(from, start), Math.min(to, end)])
      .filter(([start, end]) => end - start > shortestM)
      .sort((a, b) => a[0] - b[0]),
  )
}

/** What is left of ascending stretches without some others, but for slivers. */
function without(stretches: readonly Stretch[], taken: readonly Stretch[]): readonly Stretch[] {
  let rest = stretches
  for (const [from, to] of taken) {
    rest = rest.flatMap(([start, end]): Stretch[] =>
      to <= start || from >= end
        ? [[start, end]]
        : [
            [start, Math.min(end, from)],
            [Math.max(start, to), end],
          ],
    )
  }
  return rest.filter(([start, end]) => end - start > shortestM)
}
