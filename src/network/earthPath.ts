import type { Network } from './compile.ts'
import { pairResistance } from './pairResistance.ts'
import type { PreparedNetwork } from './prepare.ts'

/** The node of a part, or remote earth for every place in soil: what an edge of a joint leads to, as a reader knows it. */
export function endOf({ remoteEarth }: Pick<Network, 'remoteEarth'>, node: number): number {
  return Math.min(node, remoteEarth)
}

/**
 * Median ohms of a joint. Of an earth path: what it reads alone to remote earth, with the soil that it shares with others, which
 * the network has as further edges.
 */
export function jointMedianOhm(
  { medianOhm, soil }: Pick<Network, 'medianOhm' | 'soil'>,
  edge: number,
): number {
  return soil.aloneOhm.get(edge) ?? medianOhm[edge]
}

/**
 * What is read across a joint, with it sound and with it open: across its own ends, and for an earth path between part and
 * remote earth. With i the share of such a reading that the path carries itself, opening adds i²/c (docs/model.md, section 5).
 */
export function acrossJoint(
  { network, solver, endsOhm, slack, loopS, conductanceS }: PreparedNetwork,
  edge: number,
): { soundOhm: number; openOhm: number } {
  const { graph, remoteEarth } = network
  const soundOhm = endsOhm[edge]
  if (graph.to[edge] <= remoteEarth) {
    return { soundOhm, openOhm: slack[edge] === 0 ? Infinity : soundOhm / slack[edge] }
  }
  const part = graph.from[edge]
  const toEarthOhm = pairResistance(solver.factor, part, remoteEarth)
  if (slack[edge] === 0) return { soundOhm: toEarthOhm, openOhm: Infinity }
  const placeOhm = pairResistance(solver.factor, graph.to[edge], remoteEarth)
  const share = (conductanceS[edge] * (toEarthOhm + soundOhm - placeOhm)) / 2
  return { soundOhm: toEarthOhm, openOhm: toEarthOhm + (share * share) / loopS[edge] }
}
