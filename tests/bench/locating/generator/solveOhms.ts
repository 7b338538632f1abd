import { partIndexOf } from '../../../../src/layout/partIndex.ts'
import { parsePartAddress } from '../../../../src/model/address.ts'
import { assert, present } from '../../../../src/base/assert.ts'
import type { Network } from '../../../../src/network/compile.ts'
import type { Factor } from '../../../../src/network/factor.ts'
import { adjacencyOf } from '../../../../src/network/graph.ts'
import { chooseReferences, findIslands } from '../../../../src/network/islands.ts'
import { pairResistance } from '../../../../src/network/pairResistance.ts'
import { prepareSolver } from '../../../../src/network/solver.ts'
import { runToEnd } from '../../../generator/locateIn.ts'

export function nodeOf({ index }: Network, address: string): number {
  const part = partIndexOf(index, present(parsePartAddress(address), `${address} is no part address`))
  assert(part >= 0, `${address} is no part of the drawing`)
  return part
}

/** Factor of the network that these ohms make; edges of infinite ohms are not there. */
export function factorOf({ graph, remoteEarth }: Network, ohm: Float64Array): Factor {
  const kept = Array.from(ohm.keys()).filter((e) => ohm[e] < Infinity)
  const left = {
    nodeCount: graph.nodeCount,
    from: Int32Array.from(kept, (e) => graph.from[e]),
    to: Int32Array.from(kept, (e) => graph.to[e]),
  }
  const islands = findIslands(left, adjacencyOf(left))
  const references = chooseReferences(left, islands, remoteEarth)
  const conductanceS = Float64Array.from(kept, (e) => 1 / ohm[e])
  return runToEnd(prepareSolver(left, conductanceS, islands.of, references)).factor
}

/** Ohms between two parts, and what a loop clamp round an edge reads: its own ohms and the path beside it. */
export interface Solved {
  between(from: string, to: string): number
  around(edge: number): number
}

export function solveOhms(network: Network, ohm: Float64Array): Solved {
  const factor = factorOf(network, ohm)
  return {
    between: (from, to) => pairResistance(factor, nodeOf(network, from), nodeOf(network, to)),
    around(edge) {
      if (ohm[edge] === Infinity) return Infinity
      const without = ohm.slice()
      without[edge] = Infinity
      const beside = factorOf(network, without)
      return ohm[edge] + pairResistance(beside, network.graph.from[edge], network.graph.to[edge])
    },
  }
}
