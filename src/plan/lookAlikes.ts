import { writeJointAddress } from '../model/address.ts'
import type { LookAlike } from '../model/planning.ts'
import { jointAddressAt } from '../layout/jointIndex.ts'
import type { Network } from '../network/compile.ts'
import type { PairView } from './sighting.ts'

/** Shares of current are known no better than to this part of the largest, as sound joints scatter. */
const leastDifference = 0.1
const mostStrength = 1 / leastDifference

/** Groups of joints that a set of pairs shows and does not tell apart. */
export interface AlikeGroups {
  /** Joints that are shown, by edge ascending, and the group of each; groups from 0. */
  readonly edge: Int32Array
  readonly group: Int32Array
  readonly size: Int32Array
}

/**
 * A joint that goes bad moves the readings along one direction, v = i² / (least rise that shows) over the pairs, by an
 * unknown amount. Two joints look alike when their directions differ by less than what shows: with u = v / max v and z the
 * largest rise in terms of the least that shows, capped where scatter blurs all shares,
 *
 *   |u_e − u_f| · min(z_e, z_f) < 1      on every pair
 *
 * carried on from joint to joint: as alike as e to f and f to g are e and g. Partition refinement: all shown joints are
 * one group; each pair in turn sorts the members of every group that it feels by u and splits where the gap is wide
 * enough (Paige and Tarjan 1987 for the principle). O(entries log entries).
 */
export function alikeGroups(views: readonly PairView[], edgeCount: number): AlikeGroups {
  const place = new Int32Array(edgeCount).fill(-1)
  const edge = shownEdges(views, edgeCount)
  edge.forEach((e, k) => (place[e] = k))
  const largest = new Float64Array(edge.length)
  const strength = new Float64Array(edge.length)
  for (const view of views) {
    for (let k = 0; k < view.edge.length; k++) {
      const at = place[view.edge[k]]
      if (at < 0) continue
      largest[at] = Math.max(largest[at], view.squared[k] / view.leastRiseOhm)
      strength[at] = Math.max(strength[at], Math.min(mostStrength, view.riseOhm[k] / view.leastRiseOhm))
    }
  }
  const group = new Int32Array(edge.length)
  const sizes = edge.length > 0 ? [edge.length] : []
  const inGroup = new Map<number, number[]>()
  const u = new Float64Array(edge.length)
  for (const view of views) {
    inGroup.clear()
    for (let k = 0; k < view.edge.length; k++) {
      const at = place[view.edge[k]]
      if (at < 0) continue
      u[at] = view.squared[k] / view.leastRiseOhm / largest[at]
      const members = inGroup.get(group[at])
      if (members) members.push(at)
      else inGroup.set(group[at], [at])
    }
    for (const [g, members] of inGroup) splitGroup(g, members, u, strength, group, sizes)
  }
  return { edge, group, size: Int32Array.from(sizes) }
}

/** Splits one group by the shares of one pair; members that it does not feel have none, and keep the number. */
function splitGroup(
  g: number,
  members: number[],
  u: Float64Array,
  strength: Float64Array,
  group: Int32Array,
  sizes: number[],
): void {
  members.sort((x, y) => u[y] - u[x] || x - y)
  const rest = sizes[g] > members.length ? 1 : 0
  for (let first = 0; first < members.length;) {
    let end = first + 1
    while (end < members.length && !isGap(members[end - 1], members[end], u, strength)) end++
    const isLast = end === members.length
    const last = members[end - 1]
    const reachesRest = isLast && rest === 1 && u[last] * strength[last] < 1
    if (reachesRest || (isLast && rest === 0)) return
    const number = sizes.length
    for (let k = first; k < end; k++) group[members[k]] = number
    sizes.push(end - first)
    sizes[g] -= end - first
    first = end
  }
}

function isGap(x: number, y: number, u: Float64Array, strength: Float64Array): boolean {
  return (u[x] - u[y]) * Math.min(strength[x], strength[y]) >= 1
}

function shownEdges(views: readonly PairView[], edgeCount: number): Int32Array {
  const isShown = new Uint8Array(edgeCount)
  let count = 0
  for (const { edge, riseOhm, leastRiseOhm } of views) {
    for (let k = 0; k < edge.length; k++) {
      if (riseOhm[k] < leastRiseOhm || isShown[edge[k]] === 1) continue
      isShown[edge[k]] = 1
      count++
    }
  }
  const shown = new Int32Array(count)
  for (let e = 0, n = 0; n < count; e++) if (isShown[e] === 1) shown[n++] = e
  return shown
}

const mostGroups = 50
const mostNamed = 8

/** The largest groups of more than one, and how many such groups and how many joints alone there are. */
export function describeAlikes(network: Network, { edge, group, size }: AlikeGroups) {
  const several = Array.from(size.keys()).filter((g) => size[g] > 1)
  const largest = several.sort((x, y) => size[y] - size[x] || x - y).slice(0, mostGroups)
  const named = new Map(largest.map((g) => [g, [] as string[]]))
  for (let k = 0; k < edge.length; k++) {
    const names = named.get(group[k])
    if (!names || names.length >= mostNamed) continue
    names.push(writeJointAddress(jointAddressAt(network.index, network.jointOfEdge[edge[k]])))
  }
  const lookAlikes = largest.map((g): LookAlike => ({ count: size[g], joints: named.get(g) ?? [] }))
  const toldApart = size.reduce((sum, count) => sum + (count === 1 ? 1 : 0), 0)
  return { lookAlikes, lookAlikeGroups: several.length, toldApart }
}
