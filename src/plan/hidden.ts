import { writeJointAddress, writePartAddress } from '../model/address.ts'
import type { Cure, HiddenJoints } from '../model/planning.ts'
import { jointAddressAt } from '../layout/jointIndex.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import type { Network } from '../network/compile.ts'
import { riseOhm } from '../network/jointSweep.ts'
import { straightM, lengthToReachM } from '../walk/reach.ts'
import { isAccessible, pairsAcross, type PartPair, type Reachable } from './ownPairs.ts'
import { viewIn, type SightBook } from './sightBook.ts'
import { addedOhmOf, standsOutSds, type PairView, type Sighting } from './sighting.ts'

export type WhyHidden = HiddenJoints['why']

/** What decides why a joint is hidden: the kit of the plan, a four-wire tester in its place, and what is in reach. */
export interface HiddenTerms {
  readonly book: SightBook
  readonly finer: SightBook
  readonly reachable: Reachable
}

/**
 * The most that any pair rises when a joint goes bad: across its own ends, where its share of the current is
 * h = g R_e (maximum principle: no pair sends more through it). O(1).
 */
export function ownRiseOhm(sighting: Sighting, edge: number): number {
  const { leverage, loopS } = sighting.prepared
  return riseOhm(leverage[edge] * leverage[edge], loopS[edge], addedOhmOf(sighting, edge))
}

/** Whether no pair whatever shows a joint with the kit: its greatest rise is below the least that shows in any reading. */
export function isBeyond(sighting: Sighting, edge: number): boolean {
  return ownRiseOhm(sighting, edge) < (standsOutSds / 2) * sighting.terms.floorSdOhm
}

function shows({ edge, riseOhm: rise, leastRiseOhm }: PairView, joint: number): boolean {
  let low = 0
  let high = edge.length
  while (low < high) {
    const middle = (low + high) >>> 1
    if (edge[middle] < joint) low = middle + 1
    else high = middle
  }
  return low < edge.length && edge[low] === joint && rise[low] >= leastRiseOhm
}

/** The first of some pairs that shows a joint; null where none does. */
function* firstThatShows(
  book: SightBook,
  pairs: readonly PartPair[],
  edge: number,
): Generator<number, PartPair | null> {
  for (const pair of pairs) {
    const view = yield* viewIn(book, pair)
    if (shows(view, edge)) return pair
  }
  return null
}

function ownEnds({ graph, remoteEarth }: Network, edge: number): readonly PartPair[] {
  const a = Math.min(graph.from[edge], graph.to[edge])
  const b = Math.max(graph.from[edge], graph.to[edge])
  return b >= remoteEarth ? [] : [{ a, b }]
}

/** Why the readings of a plan do not show a joint, and the pair that would, if any. */
export function* whyHidden(
  { book, finer, reachable }: HiddenTerms,
  edge: number,
): Generator<number, { readonly why: WhyHidden; readonly pair: PartPair | null }> {
  const { network } = book.sighting.prepared
  const own = ownEnds(network, edge)
  const across = isBeyond(finer.sighting, edge) ? [] : pairsAcross(network, reachable, edge)
  if (!isBeyond(book.sighting, edge)) {
    const pair = yield* firstThatShows(book, across, edge)
    if (pair) return { why: 'addPair', pair }
    const beyond = yield* firstThatShows(book, own, edge)
    if (beyond) return { why: 'noAccess', pair: beyond }
  }
  if (!isBeyond(finer.sighting, edge)) {
    const pair = yield* firstThatShows(finer, [...across, ...own], edge)
    if (pair) return { why: 'finerKit', pair }
  }
  return { why: 'parallelPaths', pair: null }
}

/** What may be done about it. */
export function curesOf(
  { book, reachable }: HiddenTerms,
  edge: number,
  why: WhyHidden,
  pair: PartPair | null,
): readonly Cure[] {
  const { network, slack } = book.sighting.prepared
  const { index, graph } = network
  const partText = (part: number) => writePartAddress(partAddressAt(index, part))
  const cures: Cure[] = []
  if (why === 'addPair' && pair) cures.push({ cure: 'addPair', from: partText(pair.a), to: partText(pair.b) })
  if (why === 'finerKit') cures.push({ cure: 'fourWireKit' })
  if ((why === 'noAccess' || why === 'finerKit') && pair) {
    for (const end of [pair.a, pair.b]) {
      if (!isAccessible(network, reachable, end)) cures.push({ cure: 'testStud', part: partText(end) })
    }
    const apartM = straightM(index, pair.a, pair.b)
    if (apartM > reachable.reachM) cures.push({ cure: 'longerLead', lengthM: lengthToReachM(apartM) })
  }
  if (why === 'noAccess' && slack[edge] === 0 && graph.to[edge] < network.remoteEarth) {
    cures.push({ cure: 'secondJumper', from: partText(graph.from[edge]), to: partText(graph.to[edge]) })
  }
  if (why === 'parallelPaths') {
    const clamped = clampedBeside(network, edge)
    if (clamped >= 0) cures.push({ cure: 'loopClamp', joint: jointText(network, clamped) })
    cures.push({ cure: 'lookAndTorque' })
  }
  return cures
}

/** Joint kinds that are wire all along or end in one: what the jaws of a clamp close around. */
const clampable: ReadonlySet<string> = new Set(['wire', 'jumper', 'crimpLug', 'layInLug', 'rodClamp'])

/** The joint itself where a clamp fits around it, else a wire that lands beside it; −1 where there is none. */
function clampedBeside(
  { graph, adjacency, kind, kinds, edgeCount, electrical }: Network,
  edge: number,
): number {
  const fits = (e: number) =>
    e < edgeCount && clampable.has(kinds[kind[e]].id) && electrical.blocks.isBridge[e] === 0
  if (fits(edge)) return edge
  for (const node of [graph.from[edge], graph.to[edge]]) {
    for (let s = adjacency.start[node]; s < adjacency.start[node + 1]; s++) {
      if (fits(adjacency.edge[s])) return adjacency.edge[s]
    }
  }
  return -1
}

function jointText(network: Network, edge: number): string {
  return writeJointAddress(jointAddressAt(network.index, network.jointOfEdge[edge]))
}

export const whys = [
  'addPair',
  'noAccess',
  'finerKit',
  'parallelPaths',
] as const satisfies readonly WhyHidden[]

/**
 * The hidden joints by reason and kind, each with an example and its cures. `isHidden`: 1 by edge for those that the plan
 * does not show; `reasons`: number in `whys` by edge.
 */
export function* describeHidden(
  terms: HiddenTerms,
  isHidden: Uint8Array,
  reasons: Uint8Array,
): Generator<number, readonly HiddenJoints[]> {
  const { network } = terms.book.sighting.prepared
  const kinds = network.kinds.length
  const count = new Int32Array(whys.length * kinds)
  const first = new Int32Array(whys.length * kinds).fill(-1)
  for (let e = 0; e < isHidden.length; e++) {
    if (isHidden[e] === 0) continue
    const at = reasons[e] * kinds + network.kind[e]
    if (count[at]++ === 0) first[at] = e
  }
  const found: HiddenJoints[] = []
  for (let at = 0; at < count.length; at++) {
    if (count[at] > 0)
      found.push(yield* describeOne(terms, whys[Math.floor(at / kinds)], first[at], count[at]))
  }
  return found.sort((x, y) => y.joints - x.joints || (x.example < y.example ? -1 : 1))
}

/** Why one joint is hidden, and what would cure it. */
export function* describeHiddenJoint(terms: HiddenTerms, edge: number): Generator<number, HiddenJoints> {
  const { why } = yield* whyHidden(terms, edge)
  return yield* describeOne(terms, why, edge, 1)
}

function* describeOne(
  terms: HiddenTerms,
  why: WhyHidden,
  edge: number,
  joints: number,
): Generator<number, HiddenJoints> {
  const { sighting } = terms.book
  const { network, endsOhm } = sighting.prepared
  const { pair } = yield* whyHidden(terms, edge)
  return {
    why,
    kind: network.kinds[network.kind[edge]].id,
    joints,
    example: jointText(network, edge),
    soundOhm: endsOhm[edge],
    badOhm: endsOhm[edge] + ownRiseOhm(sighting, edge),
    cures: curesOf(terms, edge, why, pair),
  }
}
