import { forwardSet, isParted, memberCurrents, settleSet } from '../../network/jointSet.ts'
import type { JointSet, SettledSet } from '../../network/jointSet.ts'
import { gainedVoltages } from './gainedVoltages.ts'
import { kernelOf, type NodePair, type SetNetwork } from './setNetwork.ts'

/** A candidate that is bad, by its place among the candidates, and the ohms it has gained (Infinity: open). */
export interface BadJoint {
  readonly candidate: number
  readonly addedOhm: number
}

/**
 * A set of bad joints as a reading meets it. To a pair that is read across it is that set. To a loop clamp the network
 * is the one with the joint in its jaws lifted out: that joint is a member too, and open, whatever it has gained.
 */
export interface SeenSet {
  readonly set: JointSet
  readonly settled: SettledSet
  /** Place of the joint in the jaws among the members: its own where it is bad, else the last; −1 without a clamp. */
  readonly clamped: number
  /** 1 − h of that joint; 1 without a clamp. */
  readonly slack: number
}

/** The set as each reading meets it: settled once for all that are read across, once per joint in a clamp's jaws. */
export function seenSets(
  network: SetNetwork,
  level: number,
  bad: readonly BadJoint[],
): (pair: NodePair) => SeenSet {
  const known = new Map<number, SeenSet>()
  return ({ around = -1 }) => {
    const seen = known.get(around) ?? seenRound(network, level, bad, around)
    known.set(around, seen)
    return seen
  }
}

function seenRound(network: SetNetwork, level: number, bad: readonly BadJoint[], around: number): SeenSet {
  const members = bad.map(({ candidate }) => candidate)
  const addedOhm = bad.map((joint) => (joint.candidate === around ? Infinity : joint.addedOhm))
  let clamped = around < 0 ? -1 : members.indexOf(around)
  if (around >= 0 && clamped < 0) {
    clamped = members.push(around) - 1
    addedOhm.push(Infinity)
  }
  const set = kernelOf(network, level, members)
  const slack = around < 0 ? 1 : network.levels[level].slack[around]
  return { set, settled: settleSet(set, addedOhm), clamped, slack }
}

/** Room for what a reading does in each member, one that is lifted out included. */
export interface SeenWork {
  /** Per ampere of the reading, while nothing is bad. */
  readonly currentA: Float64Array
  /** Volts that the bad joints gain per ampere of the reading. */
  readonly gainedV: Float64Array
  readonly solved: Float64Array
}

export function seenWork(badCount: number): SeenWork {
  const room = () => new Float64Array(badCount + 1)
  return { currentA: room(), gainedV: room(), solved: room() }
}

/**
 * Rise of a reading, with currents and voltages of the bad joints into `work`: rise = Σ_k x_k i_k over them. For a pair
 * that is read across, x and i are those of `gainedVoltages`. Per ampere of a loop clamp the joint in its jaws carries
 * 1 A and gains what it has gained, and each of the others carries i_k/(1 − h); x, worked out with that joint open, is
 * theirs already. Infinity, and no voltage, where the set leaves no path. O(members²).
 */
export function seenRiseOhm(
  { set, settled, clamped, slack }: SeenSet,
  { a, b }: NodePair,
  bad: readonly BadJoint[],
  { currentA, gainedV, solved }: SeenWork,
): number {
  memberCurrents(set, a, b, currentA)
  const rise = gainedVoltages(settled, a, b, currentA, solved, gainedV)
  if (clamped < 0 || rise === Infinity) return rise
  let sum = 0
  for (let k = 0; k < bad.length; k++) {
    const isClamped = k === clamped
    currentA[k] = isClamped ? 1 : currentA[k] / slack
    gainedV[k] = isClamped ? bad[k].addedOhm : gainedV[k]
    sum += gainedV[k] * currentA[k]
  }
  if (sum === Infinity) gainedV.fill(0)
  return sum
}

/** The rise alone: for a pair that is read across a sum of squares, without the way back. */
export function seenRiseAlone(
  seen: SeenSet,
  pair: NodePair,
  bad: readonly BadJoint[],
  work: SeenWork,
): number {
  const { set, settled, clamped } = seen
  const { a, b } = pair
  if (clamped >= 0) return seenRiseOhm(seen, pair, bad, work)
  if (isParted(settled, a, b)) return Infinity
  return forwardSet(settled, a, b, memberCurrents(set, a, b, work.currentA), work.solved)
}
