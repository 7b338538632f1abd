import { present } from '../base/assert.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { pairPotentials } from '../network/solve.ts'
import type { PortNetwork } from './portNetwork.ts'

/** A bond network reduced to ports, with what takes their currents back to its parts. */
export interface ReducedNetwork extends PortNetwork {
  readonly prepared: PreparedNetwork
  readonly parts: readonly number[]
  /** Port that is the base of each island. */
  readonly base: readonly number[]
  /** Electrical island of the network that each island lies in. */
  readonly electrical: readonly number[]
  /** Of each port but the bases: volts of all nodes per ampere from it to its base, 0 at the reference of the island. */
  readonly potentialV: readonly (Float64Array | null)[]
}

/**
 * Reduces the network to some of its nodes: one solve for every port that is not the base of its island. O(ports ·
 * entries of the factor), 8 bytes a node and port. Yields the fraction done.
 */
export function* reduceToPorts(
  prepared: PreparedNetwork,
  parts: readonly number[],
): Generator<number, ReducedNetwork> {
  const { network, solver } = prepared
  const { of } = network.electrical.islands
  const electrical = [...new Set(parts.map((part) => of[part]))]
  const island = parts.map((part) => electrical.indexOf(of[part]))
  const base = electrical.map((_, i) => island.indexOf(i))
  const count = parts.length
  const ohm = new Float64Array(count * count)
  const potentialV: (Float64Array | null)[] = []
  for (let q = 0; q < count; q++) {
    const basePart = parts[base[island[q]]]
    if (q === base[island[q]]) {
      potentialV.push(null)
      continue
    }
    const x = new Float64Array(network.graph.nodeCount)
    pairPotentials(solver.factor, parts[q], basePart, x)
    potentialV.push(x)
    for (let p = 0; p < count; p++)
      if (island[p] === island[q]) ohm[p * count + q] = x[parts[p]] - x[basePart]
    yield (q + 1) / count
  }
  makeSymmetric(ohm, count)
  return { prepared, parts, count, islandCount: electrical.length, island, base, electrical, ohm, potentialV }
}

/** Reciprocity holds to rounding; the mean of both ways holds it exactly. */
function makeSymmetric(ohm: Float64Array, count: number): void {
  for (let p = 0; p < count; p++) {
    for (let q = 0; q < p; q++) {
      const mean = (ohm[p * count + q] + ohm[q * count + p]) / 2
      ohm[p * count + q] = ohm[q * count + p] = mean
    }
  }
}

/**
 * Volts of all nodes above the reference of their island, and the current into every node, for currents into the ports.
 * What an island's currents lack to zero, by rounding, its base takes.
 */
export function flowThrough(
  { prepared, parts, base, island, potentialV }: ReducedNetwork,
  portA: Float64Array,
): { readonly relativeV: Float64Array; readonly injectedA: Float64Array } {
  const { nodeCount } = prepared.network.graph
  const relativeV = new Float64Array(nodeCount)
  const injectedA = new Float64Array(nodeCount)
  for (let q = 0; q < parts.length; q++) {
    if (q === base[island[q]]) continue
    const x = present(potentialV[q], 'a port that is no base has potentials')
    const i = portA[q]
    if (i === 0) continue
    for (let v = 0; v < nodeCount; v++) relativeV[v] += i * x[v]
    injectedA[parts[q]] += i
    injectedA[parts[base[island[q]]]] -= i
  }
  return { relativeV, injectedA }
}
