import type { RandomStream } from '../base/random.ts'
import type { Kit } from '../model/schema/record.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { soundContact } from '../reading/contact.ts'
import { digitsSdOhm } from '../reading/kitError.ts'
import { drillRules } from './drillRules.ts'
import type { HiddenJoint } from './trueArray.ts'

/** Metal itself, soil, and contact that nobody relies on: nothing that a crew would call a bad joint. */
const notHidden: ReadonlySet<string> = new Set(['memberBody', 'earthPath'])

/** A change of a reading that an instrument shows beyond doubt, in ohm. */
export function leastShownOhm(kit: Kit): number {
  const contactSd = kit.method === 'twoWire' ? soundContact.sdOhm : 0
  return drillRules.shownTimes * Math.hypot(digitsSdOhm(kit), contactSd)
}

/**
 * By how much the resistance across a joint's own ends grows when it gains so many ohms (null: opens), at the median ohms of
 * all others. With r its own ohms and R∥ what lies beside it, 1/c = r + R∥ (c = g (1 − h), `PreparedNetwork.loopS`):
 *
 *     (r + x) ∥ R∥ − r ∥ R∥,    R∥ − r ∥ R∥ for an open one; without anything beside it x, or Infinity
 */
export function shownByOhm(
  { conductanceS, loopS, endsOhm }: PreparedNetwork,
  edge: number,
  addedOhm: number | null,
): number {
  if (loopS[edge] === 0) return addedOhm ?? Infinity
  const ownOhm = 1 / conductanceS[edge]
  const besideOhm = Math.max(0, 1 / loopS[edge] - ownOhm)
  if (addedOhm === null) return besideOhm - endsOhm[edge]
  const raisedOhm = ownOhm + addedOhm
  return (raisedOhm * besideOhm) / (raisedOhm + besideOhm) - endsOhm[edge]
}

/** Joints whose loss the instrument shows beyond doubt, and which a crew would look for. O(joints). */
export function hideableEdges(prepared: PreparedNetwork, kit: Kit): readonly number[] {
  const { kinds, kind, edgeCount } = prepared.network
  const least = leastShownOhm(kit)
  const edges: number[] = []
  for (let e = 0; e < edgeCount; e++) {
    const { id, purpose } = kinds[kind[e]]
    if (purpose === 'incidental' || notHidden.has(id)) continue
    if (shownByOhm(prepared, e, null) >= least) edges.push(e)
  }
  return edges
}

/**
 * A joint that is open, or raised by ohms log-uniform from the least that is seen to `mostAddedOhm`; null where the array has
 * none whose loss would show.
 */
export function hideByLot(prepared: PreparedNetwork, kit: Kit, random: RandomStream): HiddenJoint | null {
  const edges = hideableEdges(prepared, kit)
  if (edges.length === 0) return null
  const edge = edges[random.integer(edges.length)]
  const isOpen = random.uniform() < drillRules.openShare
  const share = random.uniform()
  if (isOpen) return { edge, addedOhm: null }
  const least = 1.5 * leastShownOhm(kit)
  const addedOhm = least * Math.max(1, drillRules.mostAddedOhm / least) ** share
  // what lies beside the joint may leave too little of it to be seen: then it is open
  return { edge, addedOhm: shownByOhm(prepared, edge, addedOhm) >= leastShownOhm(kit) ? addedOhm : null }
}
