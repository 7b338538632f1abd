import { writeJointAddress } from '../model/address.ts'
import type { LocateAnswer } from '../model/answers.ts'
import type { Kit } from '../model/schema/record.ts'
import { jointAddressAt } from '../layout/jointIndex.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { soundContact } from '../reading/contact.ts'
import { digitsSdOhm, gainSd } from '../reading/kitError.ts'
import { leastShift } from './choices.ts'
import type { Measurement } from './evidence.ts'
import type { Candidates } from './levelModel.ts'
import type { Showable } from './showable.ts'

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

/** Joints between two pauses. */
const jointsPerSlice = 1 << 15

/**
 * Across its own ends an open joint reads the path beside it, and where that is hardly more than before, no reading
 * shows it. O(joints × instruments).
 */
function* showableWith(
  { network, endsOhm, slack }: PreparedNetwork,
  kits: readonly Kit[],
  offsetSdOhm: number,
  key: string,
): Generator<number, Showable> {
  const { defectRate, kind, edgeCount } = network
  const isHidden = new Uint8Array(edgeCount)
  const count = new Int32Array(network.kinds.length)
  const first = new Int32Array(network.kinds.length)
  let joints = 0
  let expectedBad = 0
  for (let e = 0; e < edgeCount; e++) {
    if (e % jointsPerSlice === jointsPerSlice - 1) yield e / edgeCount
    if (!(defectRate[e] > 0)) continue
    joints++
    expectedBad += defectRate[e]
    const besideOhm = slack[e] === 0 ? Infinity : endsOhm[e] / slack[e]
    const rise = besideOhm - endsOhm[e]
    if (!kits.every((kit) => rise < leastShift * ownEndsSd(kit, offsetSdOhm, besideOhm))) continue
    isHidden[e] = 1
    if (count[kind[e]]++ === 0) first[kind[e]] = e
  }
  const hiddenByKind = Array.from(count, (n, k) => ({ kind: k, joints: n, first: first[k] }))
  return { key, joints, expectedBad, isHidden, hiddenByKind: hiddenByKind.filter((each) => each.joints > 0) }
}

/**
 * Sorts all joints that can go bad into those whose opening the readings would show (the candidates), those that
 * another reading with the same instruments could show, and those that no two-point reading with them can. What
 * the instruments can show is kept for the next ranking. O(candidates) then.
 */
export function* describeCoverage(
  prepared: PreparedNetwork,
  candidates: Candidates,
  measurement: Measurement,
  kept: { showable: Showable | null },
): Generator<number, Coverage> {
  const { network, endsOhm, slack } = prepared
  const offsetSd = measurement.intervals.reduce((least, i) => Math.min(least, i.offsetSdOhm), Infinity)
  const usableOffset = Number.isFinite(offsetSd) ? offsetSd : 0
  const key = JSON.stringify([usableOffset, measurement.kits])
  const known = kept.showable?.key === key ? kept.showable : null
  const showable = known ?? (yield* showableWith(prepared, measurement.kits, usableOffset, key))
  kept.showable = showable

  const isSeen = new Uint8Array(network.edgeCount)
  const seenHidden = new Int32Array(network.kinds.length)
  let seenBad = 0
  for (const e of candidates.edge) {
    isSeen[e] = 1
    seenBad += network.defectRate[e]
    seenHidden[network.kind[e]] += showable.isHidden[e]
  }
  const unseen = showable.hiddenByKind.flatMap(({ kind, joints, first }) => {
    const left = joints - seenHidden[kind]
    let edge = first
    while (left > 0 && !(network.kind[edge] === kind && showable.isHidden[edge] === 1 && isSeen[edge] === 0))
      edge++
    return left > 0 ? [{ edge, joints: left }] : []
  })
  const examples = unseen
    .sort((a, b) => b.joints - a.joints || a.edge - b.edge)
    .map(({ edge, joints }): Example => ({
      joint: writeJointAddress(jointAddressAt(network.index, network.jointOfEdge[edge])),
      kind: network.kinds[network.kind[edge]].id,
      soundOhm: endsOhm[edge],
      openOhm: slack[edge] === 0 ? Infinity : endsOhm[edge] / slack[edge],
      joints,
    }))
  const seen = candidates.edge.length
  const cannotBeSeen = unseen.reduce((sum, { joints }) => sum + joints, 0)
  return {
    joints: showable.joints,
    seen,
    notReached: showable.joints - seen - cannotBeSeen,
    cannotBeSeen,
    expectedBadUnseen: Math.max(0, showable.expectedBad - seenBad),
    examples,
  }
}
