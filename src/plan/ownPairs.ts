import { straightM } from '../walk/reach.ts'
import type { Network } from '../network/compile.ts'

/** Parts on each side of a joint that pairs across it are made of, and how far they are looked for. */
const partsPerSide = 2
const mostVisited = 300

export interface PartPair {
  readonly a: number
  readonly b: number
}

/** Where clips reach and how far the lead does. */
export interface Reachable {
  /** By code of the part kind: 1 where a clip reaches it. */
  readonly access: Uint8Array
  readonly reachM: number
}

export function isAccessible(network: Network, { access }: Reachable, part: number): boolean {
  return part < network.remoteEarth && access[network.partKind[part]] === 1
}

/** Whether a pair can be taken: both ends accessible and no further apart than the lead. */
export function isInReach(network: Network, reachable: Reachable, { a, b }: PartPair): boolean {
  return (
    isAccessible(network, reachable, a) &&
    isAccessible(network, reachable, b) &&
    straightM(network.index, a, b) <= reachable.reachM
  )
}

/**
 * The pairs that show a joint best: across its own ends, or across the parts nearest to them that a clip reaches, by
 * joints of metal between; those that can be taken, the closest first. At most four.
 */
export function pairsAcross(network: Network, reachable: Reachable, edge: number): readonly PartPair[] {
  const { from, to } = network.graph
  const one = nearestOn(network, reachable, edge, from[edge], to[edge])
  const other = nearestOn(network, reachable, edge, to[edge], from[edge])
  const pairs: PartPair[] = []
  for (let sum = 0; sum <= one.length + other.length - 2; sum++) {
    for (let k = 0; k <= sum; k++) {
      if (k >= one.length || sum - k >= other.length || one[k] === other[sum - k]) continue
      const pair = { a: Math.min(one[k], other[sum - k]), b: Math.max(one[k], other[sum - k]) }
      if (isInReach(network, reachable, pair)) pairs.push(pair)
    }
  }
  return pairs
}

/** Accessible parts on one side of a joint, nearest first by joints of metal, breadth first. */
function nearestOn(
  network: Network,
  reachable: Reachable,
  edge: number,
  start: number,
  other: number,
): readonly number[] {
  const { adjacency, isMetal, remoteEarth } = network
  const found: number[] = []
  if (start >= remoteEarth) return found
  const queue = [start]
  const seen = new Set([start, other])
  for (let at = 0; at < queue.length && found.length < partsPerSide; at++) {
    const node = queue[at]
    if (isAccessible(network, reachable, node)) found.push(node)
    for (let s = adjacency.start[node]; s < adjacency.start[node + 1]; s++) {
      const next = adjacency.neighbour[s]
      if (queue.length >= mostVisited) break
      if (adjacency.edge[s] === edge || isMetal[adjacency.edge[s]] === 0 || seen.has(next)) continue
      seen.add(next)
      queue.push(next)
    }
  }
  return found
}
