import { writeJointAddress } from '../model/address.ts'
import type { LocateAnswer } from '../model/answers.ts'
import type { Kit } from '../model/schema/record.ts'
import { jointAddressAt } from '../layout/jointIndex.ts'
import { besideOhm } from '../network/jointSweep.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { soundContact } from '../reading/contact.ts'
import { digitsSdOhm, gainSd } from '../reading/kitError.ts'
import type { Measurement } from './evidence.ts'
import type { Candidates } from './levels.ts'
import { leastShift } from './rank.ts'

type Coverage = LocateAnswer['coverage']
type Example = Coverage['examples'][number]

/** Standard deviation of a single reading across a joint, with one instrument and its lead, in ohm. */
function ownEndsSd(kit: Kit, offsetSdOhm: number, ohm: number): number {
  const twoWire = kit.method === 'twoWire'
  return Math.hypot(
    digitsSdOhm(kit),
    gainSd(kit) * ohm,
    twoWire ? soundContact.sdOhm : 0,
    twoWire ? offsetSdOhm : 0,
  )
}

/**
 * Sorts all joints that can go bad into those whose opening the readings would show, those that another
 * reading with the same instruments could show, and those that no two-point reading with them can: across its
 * own ends an open joint reads the path beside it, and where that is hardly more than before, nothing is seen.
 */
export function describeCoverage(
  prepared: PreparedNetwork,
  candidates: Candidates,
  measurement: Measurement,
): Coverage {
  const { network, endsOhm, slack } = prepared
  const beside = besideOhm(endsOhm, slack)
  const seenEdge = new Uint8Array(network.graph.from.length)
  for (const e of candidates.edge) seenEdge[e] = 1
  const offsetSd = measurement.intervals.reduce((least, i) => Math.min(least, i.offsetSdOhm), Infinity)
  const usableOffset = Number.isFinite(offsetSd) ? offsetSd : 0

  let joints = 0
  let seen = 0
  let cannotBeSeen = 0
  let expectedBadUnseen = 0
  const byKind = new Map<number, { edge: number; joints: number }>()
  for (let e = 0; e < seenEdge.length; e++) {
    const rate = network.defectRate[e]
    if (!(rate > 0)) continue
    joints++
    if (seenEdge[e] === 1) {
      seen++
      continue
    }
    expectedBadUnseen += rate
    const rise = beside[e] - endsOhm[e]
    const hidden = measurement.kits.every(
      (kit) => rise < leastShift * ownEndsSd(kit, usableOffset, beside[e]),
    )
    if (!hidden) continue
    cannotBeSeen++
    const known = byKind.get(network.kind[e])
    if (known) known.joints++
    else byKind.set(network.kind[e], { edge: e, joints: 1 })
  }
  const examples = [...byKind.values()]
    .sort((a, b) => b.joints - a.joints || a.edge - b.edge)
    .map(({ edge, joints: count }): Example => ({
      joint: writeJointAddress(jointAddressAt(network.index, network.jointOfEdge[edge])),
      kind: network.kinds[network.kind[edge]].id,
      soundOhm: endsOhm[edge],
      openOhm: beside[edge],
      joints: count,
    }))
  return { joints, seen, notReached: joints - seen - cannotBeSeen, cannotBeSeen, expectedBadUnseen, examples }
}
