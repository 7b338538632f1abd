import { equationsOf } from './equations.ts'
import type { Circuit } from './circuit.ts'
import { faultLinkA } from './faultPoint.ts'
import { newton, portCurrentsA, roomFor } from './operatingPoint.ts'
import type { PortNetwork } from './portNetwork.ts'

/** The circuit once a bridge has gone: what the fault still drives, port currents, and the volts across the gap. */
export interface SplitPoint {
  readonly faultA: number
  readonly portA: Float64Array
  /** Of the ports of `mask` above the others, at both ends of the gap. */
  readonly gapV: number
}

/**
 * Solves the circuit with the ports of a mask cut off from the others of their island. A bridge carries nothing for currents
 * that stay on either side of it, so that the resistances between ports of one side are as before; only the volts of the
 * sides come apart, by as much at every bridge that parts the ports in the same way.
 */
export function splitPoint(
  circuit: Circuit,
  network: PortNetwork,
  mask: number,
  start: Float64Array,
): SplitPoint {
  const { count, islandCount, ohm } = network
  const isCutOff = (p: number) => ((mask >> p) & 1) === 1
  const first = network.island.findIndex((_, p) => isCutOff(p))
  const parent = network.island[first]
  const split: PortNetwork = {
    count,
    islandCount: islandCount + 1,
    island: network.island.map((i, p) => (isCutOff(p) ? islandCount : i)),
    ohm: rebased(network, isCutOff, first),
  }
  const equations = equationsOf(circuit, split)
  const x = new Float64Array(equations.size)
  x.set(start)
  const bases = circuit.nodeCount + circuit.links.length
  x[bases + islandCount] = x[bases + parent]
  newton(equations, x, roomFor(equations.size))
  const point = { equations, x }
  const portA = portCurrentsA(point)
  let above = 0
  for (let q = 0; q < count; q++) above += ohm[first * count + q] * portA[q]
  return {
    faultA: Math.abs(faultLinkA(point)),
    portA,
    gapV: x[bases + islandCount] - above - x[bases + parent],
  }
}

/** Resistances with the cut-off ports measured to the first of them: Z_pq − Z_pf − Z_fq + Z_ff; none across the gap. */
function rebased({ count, ohm }: PortNetwork, isCutOff: (p: number) => boolean, f: number): Float64Array {
  const split = ohm.slice()
  for (let p = 0; p < count; p++) {
    for (let q = 0; q < count; q++) {
      const at = p * count + q
      if (isCutOff(p) !== isCutOff(q)) split[at] = 0
      else if (isCutOff(p)) split[at] = ohm[at] - ohm[p * count + f] - ohm[f * count + q] + ohm[f * count + f]
    }
  }
  return split
}
