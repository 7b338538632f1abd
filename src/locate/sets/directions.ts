import { forwardSet, memberCurrents, settleSet } from '../../network/jointSet.ts'
import { gainedVoltages } from './gainedVoltages.ts'
import { badJointsOf, type MemberList, type SetInputs } from './setInputs.ts'
import { kernelOf, potentialsOf } from './setNetwork.ts'

/** How a further joint moves the readings beside a set that is bad: by v / (1/Δ + c). */
export interface Direction {
  /** v, per reading: the squared share of its current that crosses the joint. */
  readonly squared: Float64Array
  readonly loopS: number
}

/** A candidate whose conductance round its loop falls below this share under the set hangs by a thread. */
const leastLoopShare = 1e-9

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
  if (members.length === 0) return (k) => ({ squared: drawn(k), loopS: loopS[k] })
  const bad = badJointsOf(inputs, members)
  const set = kernelOf(
    network,
    level,
    bad.map(({ candidate }) => candidate),
  )
  const settled = settleSet(
    set,
    bad.map(({ addedOhm }) => addedOhm),
  )
  const size = members.length
  const current = new Float64Array(size)
  const scratch = new Float64Array(size)
  const gained = pairs.map(({ a, b }) => {
    const gainedV = new Float64Array(size)
    if (a !== b) gainedVoltages(settled, a, b, memberCurrents(set, a, b, current), scratch, gainedV)
    return gainedV
  })
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
      for (let m = 0; m < size; m++) i += perVolt[m] * gained[p][m]
      return i * i
    })
    const through = memberCurrents(set, from, to, new Float64Array(size))
    const c = loopS[k] - g * g * forwardSet(settled, from, to, through, new Float64Array(size))
    return { squared: moved, loopS: c > leastLoopShare * loopS[k] ? c : 0 }
  }
}
