import { portionSteps } from '../../base/portion.ts'
import type { WayGraph } from './graph.ts'
import { Heap } from '../heap.ts'

/**
 * Distances in a graph by hubs: every node knows its distance to a few nodes, and any two nodes know one in common on a
 * shortest way between them. Hubs of node n at start[n] … start[n + 1] − 1, ascending.
 */
export interface Hubs {
  readonly start: Int32Array
  readonly hub: Int32Array
  readonly wayM: Float64Array
}

/** Shortest ways are counted from so many nodes to find those that most of them pass. */
const samples = 24

/**
 * Exact hubs of a graph that holds together: searches from the nodes that most shortest ways pass, in that order, each
 * cut off where earlier hubs already tell the distance (pruned labelling after Akiba, Iwata and Yoshida, "Fast exact
 * shortest-path distance queries on large networks by pruned landmark labeling", SIGMOD 2013). Determinate.
 */
export function* hubsOf(graph: WayGraph): Generator<number, Hubs> {
  const { count, start, to, wayM } = graph
  const order = mostPassed(graph)
  const hubs: number[][] = Array.from({ length: count }, () => [])
  const ways: number[][] = Array.from({ length: count }, () => [])
  const fromRoot = new Float64Array(count).fill(Infinity)
  const reached = new Float64Array(count).fill(Infinity)
  const touched: number[] = []
  const heap = new Heap()
  let steps = 0
  for (let rank = 0; rank < count; rank++) {
    const root = order[rank]
    hubs[root].forEach((hub, k) => (fromRoot[hub] = ways[root][k]))
    reached[root] = 0
    touched.push(root)
    heap.push(root, 0)
    while (heap.size > 0) {
      const farM = heap.leastKey
      const node = heap.pop()
      if (farM > reached[node]) continue
      const own = hubs[node]
      steps += own.length + start[node + 1] - start[node]
      const ownWays = ways[node]
      let isKnown = false
      for (let k = 0; k < own.length && !isKnown; k++) {
        isKnown = fromRoot[own[k]] + ownWays[k] <= farM * (1 + 1e-12)
      }
      if (isKnown) continue
      own.push(rank)
      ownWays.push(farM)
      for (let k = start[node]; k < start[node + 1]; k++) {
        const next = farM + wayM[k]
        if (next >= reached[to[k]]) continue
        if (reached[to[k]] === Infinity) touched.push(to[k])
        reached[to[k]] = next
        heap.push(to[k], next)
      }
    }
    for (const hub of hubs[root]) fromRoot[hub] = Infinity
    for (const node of touched) reached[node] = Infinity
    touched.length = 0
    if (steps > portionSteps) {
      steps = 0
      yield rank / count
    }
  }
  return packed(hubs, ways)
}

/** Shortest distance between two nodes, in metres. O(their hubs). */
export function hubDistanceM({ start, hub, wayM }: Hubs, a: number, b: number): number {
  let [i, k] = [start[a], start[b]]
  const [iEnd, kEnd] = [start[a + 1], start[b + 1]]
  let leastM = Infinity
  while (i < iEnd && k < kEnd) {
    if (hub[i] === hub[k]) leastM = Math.min(leastM, wayM[i++] + wayM[k++])
    else if (hub[i] < hub[k]) i++
    else k++
  }
  return leastM
}

export function packed(hubs: readonly (readonly number[])[], ways: readonly (readonly number[])[]): Hubs {
  const start = new Int32Array(hubs.length + 1)
  hubs.forEach((own, n) => (start[n + 1] = start[n] + own.length))
  const hub = new Int32Array(start[hubs.length])
  const wayM = new Float64Array(start[hubs.length])
  hubs.forEach((own, n) => hub.set(own, start[n]))
  ways.forEach((own, n) => wayM.set(own, start[n]))
  return { start, hub, wayM }
}

/** All nodes, those first that lie on most of the shortest ways from some of them; ties by number. */
function mostPassed({ count, start, to, wayM }: WayGraph): Int32Array {
  const passed = new Float64Array(count)
  const reached = new Float64Array(count)
  const parent = new Int32Array(count)
  const settled = new Int32Array(count)
  const below = new Float64Array(count)
  const heap = new Heap()
  for (let s = 0; s < Math.min(samples, count); s++) {
    reached.fill(Infinity)
    const source = Math.floor((s * count) / Math.min(samples, count))
    reached[source] = 0
    parent[source] = -1
    heap.push(source, 0)
    let done = 0
    while (heap.size > 0) {
      const farM = heap.leastKey
      const node = heap.pop()
      if (farM > reached[node]) continue
      settled[done++] = node
      for (let k = start[node]; k < start[node + 1]; k++) {
        if (farM + wayM[k] >= reached[to[k]]) continue
        reached[to[k]] = farM + wayM[k]
        parent[to[k]] = node
        heap.push(to[k], farM + wayM[k])
      }
    }
    below.fill(1)
    for (let k = done - 1; k > 0; k--) {
      const node = settled[k]
      below[parent[node]] += below[node]
      passed[node] += below[node] - 1
    }
  }
  const order = Int32Array.from({ length: count }, (_, k) => k)
  return order.sort((a, b) => passed[b] - passed[a] || a - b)
}
