import { pairPotentials } from '../../../../src/network/solve.ts'
import { assumed } from './assumed.ts'
import type { Pair } from './drawPairs.ts'
import type { PossibleNetwork } from './possibleNetwork.ts'
import { factorOf, nodeOf } from './solveOhms.ts'

/** 1 for every edge that carries much of the current of one of the pairs, in the array as it was drawn. */
export function crossedBy({ network, undrawn }: PossibleNetwork, pairs: readonly Pair[]): Uint8Array {
  const ohm = network.medianOhm.slice()
  for (const e of undrawn) ohm[e] = Infinity
  const factor = factorOf(network, ohm)
  const volts = new Float64Array(network.graph.nodeCount)
  const crossed = new Uint8Array(network.edgeCount)
  const { from, to } = network.graph
  for (const pair of pairs) {
    pairPotentials(factor, nodeOf(network, pair.from), nodeOf(network, pair.to), volts)
    for (let e = 0; e < crossed.length; e++) {
      if (Math.abs(volts[from[e]] - volts[to[e]]) / ohm[e] >= assumed.crossedFrom) crossed[e] = 1
    }
  }
  return crossed
}
