import { forwardSet, memberCurrents } from '../../network/jointSet.ts'
import { loopDirection, type LoopDirection } from './loopDirection.ts'
import { seenRiseOhm, seenSets, seenWork } from './seenSets.ts'
import { badJointsOf, type MemberList, type SetInputs } from './setInputs.ts'
import { potentialsOf } from './setNetwork.ts'

/** How a further joint moves the readings beside a set that is bad: by v / (1/Δ + c). */
export interface Direction {
  /** v, per reading: the squared share of its current that crosses the joint. */
  readonly squared: Float64Array
  readonly loopS: number
  /** Where the joint is on the loop of a loop reading: the same with a c for each reading. */
  readonly onLoops: LoopDirection | null
}

/** A candidate whose conductance round its loop falls below this share under the set hangs by a thread. */
const leastLoopShare = 1e-9

/**
 * The conductance round its loop of a joint beside a set, once rounding is taken off: 0 for a joint that the set has made a
 * bridge, whose currents in `squared` then are none or all of an ampere.
 */
export function settledLoopS(squared: Float64Array, loopS: number, drawnLoopS: number): number {
  if (loopS > leastLoopShare * drawnLoopS) return loopS
  for (let p = 0; p < squared.length; p++) squared[p] = squared[p] < 0.25 ? 0 : 1
  return 0
}

/**
 * Directions of further joints beside a set, exactly: i' = i + g Σ_k s_k (φ_k(from) − φ_k(to)), s the voltages that the
 * members gain. O(readings × members) and a solve each.
 */
export function directionsBeside(
  inputs: SetInputs,
  members: MemberList,
  level: number,
): (candidate: number) => Direction {
  const { network, models } = inputs
  const { graph, pairs } = network
  const { networkOhm, loopS, squared } = models[level]
  const n = pairs.length
  const drawn = (k: number) => squared.subarray(k * n, k * n + n)
  const bad = badJointsOf(inputs, members)
  const size = members.length
  const seenBy = seenSets(network, level, bad)
  const work = seenWork(size)
  const gainedV = pairs.map((pair, p) => {
    if (size === 0 || pair.a === pair.b || networkOhm[p] === Infinity) return new Float64Array(size)
    seenRiseOhm(seenBy(pair), pair, bad, work)
    return work.gainedV.slice(0, size)
  })
  const beside = { network, level, size, seenBy, gainedV }
  const withLoops = (k: number, across: Float64Array, acrossS: number): Direction => ({
    squared: across,
    loopS: acrossS,
    onLoops: loopDirection(beside, models[level], k, across, acrossS),
  })
  if (size === 0) return (k) => withLoops(k, drawn(k), loopS[k])
  const { set, settled } = seenBy({ a: 0, b: 0 })
  return (k) => {
    const [from, to] = [graph.from[k], graph.to[k]]
    const g = network.levels[level].conductanceS[k]
    const own = potentialsOf(network, level, k)
    const perVolt = Float64Array.from(
      set.potentialV,
      (potentialV, m) => g * set.conductanceS[m] * (potentialV[from] - potentialV[to]),
    )
    const moved = Float64Array.from(pairs, ({ a, b }, p) => {
      if (a === b || networkOhm[p] === Infinity) return 0
      let i = g * (own[a] - own[b])
      for (let m = 0; m < size; m++) i += perVolt[m] * gainedV[p][m]
      return i * i
    })
    const through = memberCurrents(set, from, to, new Float64Array(size))
    const c = loopS[k] - g * g * forwardSet(settled, from, to, through, new Float64Array(size))
    return withLoops(k, moved, settledLoopS(moved, c, loopS[k]))
  }
}
