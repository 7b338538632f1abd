import { edgeCurrents, settleBridgeCurrents } from '../network/currents.ts'
import type { PreparedNetwork } from '../network/prepare.ts'

/** Currents of all edges per ampere, from the potentials it raises; those of bridges −1, 0 or 1 exactly. O(edges). */
export function unitCurrents(
  { network, conductanceS }: PreparedNetwork,
  potentialV: Float64Array,
): Float64Array {
  const { graph, electrical } = network
  const currents = edgeCurrents(graph, conductanceS, potentialV, new Float64Array(graph.from.length))
  return settleBridgeCurrents(electrical.blocks.isBridge, currents)
}
