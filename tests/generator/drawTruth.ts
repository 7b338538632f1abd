import { assert, present } from '../../src/base/assert.ts'
import type { RandomStream } from '../../src/base/random.ts'
import { jointIndexOf } from '../../src/layout/jointIndex.ts'
import { partIndexOf } from '../../src/layout/partIndex.ts'
import { parseJointAddress, parsePartAddress } from '../../src/model/address.ts'
import type { Network } from '../../src/network/compile.ts'
import { adjacencyOf } from '../../src/network/graph.ts'
import { chooseReferences, findIslands } from '../../src/network/islands.ts'
import { pairResistance } from '../../src/network/pairResistance.ts'
import { prepareSolver } from '../../src/network/solver.ts'
import { metalLnSpread, raised as raisedJoints, soil, soundJoints } from './assumedValues.ts'

/** A site as it really is: ohms that nobody knows. */
export interface Truth {
  readonly network: Network
  /** Per edge of the network; Infinity for an open joint. */
  readonly ohm: Float64Array
  /** How many times the stated resistivity the soil really has. */
  readonly soilFactor: number
  /** Between two parts by their addresses; Infinity where nothing joins them. */
  trueResistance(from: string, to: string): number
}

export interface Planted {
  /** Joints that are open or missing, by address. */
  readonly opened?: readonly string[]
  /** Joints with added ohms; drawn at random where none are given. */
  readonly raised?: readonly { readonly joint: string; readonly addedOhm?: number }[]
}

/** Ohms that a raised joint gains: log-uniform from the larger of its median and 1 mΩ up to 1000 Ω. */
export function drawAddedOhm(random: RandomStream, medianOhm: number): number {
  const from = Math.max(medianOhm, raisedJoints.leastOhm)
  return from * (raisedJoints.mostOhm / from) ** random.uniform()
}

/** Log-uniform from half to twice: as dry or as wet as the season may make it. */
export function drawSoilFactor(random: RandomStream): number {
  return soil.seasonFactor ** (2 * random.uniform() - 1)
}

/** Draws the ohms of every joint of a drawn network, the planted ones changed after that. */
export function drawTruth(network: Network, random: RandomStream, planted: Planted = {}): Truth {
  const soilFactor = drawSoilFactor(random)
  const ohm = Float64Array.from(network.medianOhm, (medianOhm, e) =>
    // soil between places in soil is nobody's joint: wet or dry as all of it
    e < network.edgeCount ? drawOhm(network, e, soilFactor, random) : medianOhm * soilFactor,
  )
  for (const { joint, addedOhm } of planted.raised ?? []) {
    const e = edgeOf(network, joint)
    ohm[e] += addedOhm ?? drawAddedOhm(random, network.medianOhm[e])
  }
  for (const joint of planted.opened ?? []) ohm[edgeOf(network, joint)] = Infinity
  return { network, ohm, soilFactor, trueResistance: solveTruth(network, ohm) }
}

function drawOhm(network: Network, e: number, soilFactor: number, random: RandomStream): number {
  const kind = network.kinds[network.kind[e]].id
  const z = random.normal()
  if (network.isEarthPath[e] === 1) return network.medianOhm[e] * soilFactor * Math.exp(soil.lnSpread * z)
  if (kind in metalLnSpread) return network.medianOhm[e] * Math.exp(metalLnSpread[kind] * z)
  const { medianOhm, lnSpread } = present(soundJoints[kind], `the generator knows no joint kind ${kind}`)
  return network.fixedOhm[e] + medianOhm * Math.exp(lnSpread * z)
}

function edgeOf(network: Network, joint: string): number {
  const address = present(parseJointAddress(joint), `${joint} is no joint address`)
  const edge = network.edgeOfJoint[jointIndexOf(network.index, address)]
  assert(edge >= 0, `${joint} is no joint of the network`)
  return edge
}

/** Open joints are left out of the graph that is solved. */
function solveTruth(network: Network, ohm: Float64Array): Truth['trueResistance'] {
  const kept = Array.from(ohm.keys()).filter((e) => ohm[e] < Infinity)
  const graph = {
    nodeCount: network.graph.nodeCount,
    from: Int32Array.from(kept, (e) => network.graph.from[e]),
    to: Int32Array.from(kept, (e) => network.graph.to[e]),
  }
  const conductanceS = Float64Array.from(kept, (e) => 1 / ohm[e])
  const islands = findIslands(graph, adjacencyOf(graph))
  const references = chooseReferences(graph, islands, network.remoteEarth)
  const job = prepareSolver(graph, conductanceS, islands.of, references)
  let step = job.next()
  while (!step.done) step = job.next()
  const { factor } = step.value
  const partOf = (address: string) => {
    const part = partIndexOf(
      network.index,
      present(parsePartAddress(address), `${address} is no part address`),
    )
    assert(part >= 0, `${address} is no part of the drawing`)
    return part
  }
  return (from, to) => pairResistance(factor, partOf(from), partOf(to))
}
