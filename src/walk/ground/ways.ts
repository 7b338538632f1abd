import type { PointM } from '../../model/schema/primitives.ts'
import { Heap } from '../heap.ts'
import type { Stops } from '../tour/stops.ts'
import type { Ground } from './ground.ts'
import type { WayGraph } from './graph.ts'
import { hubDistanceM, packed, type Hubs } from './hubs.ts'
import type { Stand } from './stands.ts'
import { pointOf } from './stripNodes.ts'

/** Nodes at which one leaves the strip of a stand, or its own one, with the metres to each. */
export function exitsOf(
  { stripNodes, graph }: Ground,
  { place, node, offM, at }: Stand,
): readonly (readonly [node: number, wayM: number])[] {
  if (!place) return [[node, offM]]
  const { alongM, first, second } = stripNodes[place.strip]
  const nodes = place.isSecond ? second : first
  let [low, high] = [0, alongM.length - 1]
  while (low + 1 < high) {
    const middle = (low + high) >> 1
    if (alongM[middle] <= place.alongM) low = middle
    else high = middle
  }
  return [low, high].map(
    (k) => [nodes[k], Math.hypot(graph.xM[nodes[k]] - at.x, graph.yM[nodes[k]] - at.y)] as const,
  )
}

/** The way between two stands in one strip, along it and straight across; Infinity where they are not. */
export function withinStripM({ strips }: Ground, a: Stand, b: Stand): number {
  if (!a.place || !b.place || a.place.strip !== b.place.strip) return Infinity
  const alongM = Math.abs(a.place.alongM - b.place.alongM)
  return a.place.isSecond === b.place.isSecond ? alongM : alongM + strips[a.place.strip].facing!.widthM
}

/**
 * Stands as the stops of a walk. The metric is the shortest way over the ground: every way between two stands stays in
 * their common strip or leaves it by one of its nodes. O(hubs of a stand) for a distance, some tens.
 */
export function stopsOn(ground: Ground, stands: readonly Stand[]): Stops {
  const hubs = hubsOfStands(ground, stands)
  const strip = Int32Array.from(stands, ({ place }) => place?.strip ?? -1)
  const isSecond = Uint8Array.from(stands, ({ place }) => (place?.isSecond === true ? 1 : 0))
  const alongM = Float64Array.from(stands, ({ place }) => place?.alongM ?? 0)
  const widthM = Float64Array.from(ground.strips, ({ facing }) => facing?.widthM ?? 0)
  return {
    count: stands.length,
    xM: Float64Array.from(stands, ({ at }) => at.x),
    yM: Float64Array.from(stands, ({ at }) => at.y),
    line: strip,
    alongM,
    distanceM: (a, b) => {
      if (a === b) return 0
      if (strip[a] < 0 || strip[a] !== strip[b]) return hubDistanceM(hubs, a, b)
      const alongStripM = Math.abs(alongM[a] - alongM[b])
      if (isSecond[a] === isSecond[b]) return alongStripM
      return Math.min(alongStripM + widthM[strip[a]], hubDistanceM(hubs, a, b))
    },
  }
}

/** The hubs of each stand: those of its exits, each with the shorter way. */
function hubsOfStands(ground: Ground, stands: readonly Stand[]): Hubs {
  const { start, hub, wayM } = ground.hubs
  const hubs: number[][] = []
  const ways: number[][] = []
  for (const stand of stands) {
    const [one, other = [one[0], Infinity] as const] = exitsOf(ground, stand)
    const own: number[] = []
    const ownWays: number[] = []
    let [i, k] = [start[one[0]], start[other[0]]]
    const [iEnd, kEnd] = [start[one[0] + 1], start[other[0] + 1]]
    while (i < iEnd || k < kEnd) {
      const isOne = k >= kEnd || (i < iEnd && hub[i] <= hub[k])
      const isOther = i >= iEnd || (k < kEnd && hub[k] <= hub[i])
      own.push(isOne ? hub[i] : hub[k])
      ownWays.push(Math.min(isOne ? one[1] + wayM[i] : Infinity, isOther ? other[1] + wayM[k] : Infinity))
      if (isOne) i++
      if (isOther) k++
    }
    hubs.push(own)
    ways.push(ownWays)
  }
  return packed(hubs, ways)
}

/**
 * The way between two stands as a line in plan, its length the metric: along strips and across them at the second
 * stand's place, else over the nodes of a shortest way. O(nodes log nodes) where it leaves the strip.
 */
export function wayBetween(ground: Ground, a: Stand, b: Stand): readonly PointM[] {
  const insideM = withinStripM(ground, a, b)
  if (insideM < Infinity && a.place?.isSecond === b.place?.isSecond) return [a.at, b.at]
  const exits = exitsOf(ground, b)
  const { reachedM, before } = searchFrom(ground.graph, exitsOf(ground, a), exits)
  let last = -1
  let leastM = insideM
  for (const [node, wayM] of exits) {
    if (reachedM[node] + wayM >= leastM) continue
    leastM = reachedM[node] + wayM
    last = node
  }
  if (last < 0) return [a.at, ...crossingIn(ground, a, b), b.at]
  const nodes: number[] = []
  for (let node = last; node >= 0; node = before[node]) nodes.push(node)
  const { xM, yM } = ground.graph
  return [a.at, ...nodes.reverse().map((node) => ({ x: xM[node], y: yM[node] })), b.at]
}

/** Where one crosses a strip: on the first stand's lane, opposite the second stand. */
function crossingIn({ lanes, strips }: Ground, a: Stand, b: Stand): readonly PointM[] {
  if (!a.place || !b.place || a.place.isSecond === b.place.isSecond) return []
  return [pointOf(lanes, strips, { ...a.place, alongM: b.place.alongM })]
}

/** Shortest ways from some nodes, until all of some others are reached (Dijkstra 1959). */
function searchFrom(
  { count, start, to, wayM }: WayGraph,
  from: readonly (readonly [number, number])[],
  until: readonly (readonly [number, number])[],
): { readonly reachedM: Float64Array; readonly before: Int32Array } {
  const reachedM = new Float64Array(count).fill(Infinity)
  const before = new Int32Array(count).fill(-1)
  const heap = new Heap()
  const open = new Set(until.map(([node]) => node))
  for (const [node, way] of from) {
    if (way >= reachedM[node]) continue
    reachedM[node] = way
    heap.push(node, way)
  }
  while (heap.size > 0 && open.size > 0) {
    const farM = heap.leastKey
    const node = heap.pop()
    if (farM > reachedM[node]) continue
    open.delete(node)
    for (let k = start[node]; k < start[node + 1]; k++) {
      if (farM + wayM[k] >= reachedM[to[k]]) continue
      reachedM[to[k]] = farM + wayM[k]
      before[to[k]] = node
      heap.push(to[k], farM + wayM[k])
    }
  }
  return { reachedM, before }
}
