import type { Network } from '../network/compile.ts'
import { pairResistance } from '../network/pairResistance.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { pairPotentials } from '../network/solve.ts'
import { levelLnSd } from './assumptions.ts'
import { enterScatter, type ScatterQuadrature } from './jointScatter.ts'

export interface PairPrediction {
  /** Resistance of the median network in ohm; Infinity where nothing joins the two. */
  readonly resistanceOhm: number
  /** Mean over the scatter of sound joints, and standard deviation with the levels of the joint kinds. */
  readonly expectedOhm: number
  readonly spreadOhm: number
}

/** The ohms of each joint that scatter from one sound joint to the next: contacts, or the wire itself. */
export function scatteringOhm({ network, conductanceS }: PreparedNetwork): Float64Array {
  return network.medianOhm.map((_, e) => scatteringOhmAt(network, conductanceS, e))
}

/** The same of one joint. */
export function scatteringOhmAt(
  { isEarthPath, medianOhm, fixedOhm }: Network,
  conductanceS: Float64Array,
  e: number,
): number {
  if (isEarthPath[e] === 1) return 1 / conductanceS[e]
  const ohm = medianOhm[e]
  const contact = ohm - fixedOhm[e]
  return contact > 1e-12 * ohm ? contact : ohm
}

/** Joints between two pauses. */
const jointsPerSlice = 1 << 15

/**
 * What an array of sound joints reads between two parts, without contact, lead or instrument:
 * mean R + Σ i² E s, variance Σ i⁴ Var s + Σ_kind (level sd of the kind · Σ i² r)²,
 * over all joints. Yields the fraction done. O(factor + joints).
 */
export function* predictPair(
  prepared: PreparedNetwork,
  a: number,
  b: number,
): Generator<number, PairPrediction> {
  const { network, solver, conductanceS, loopS } = prepared
  const { from, to, nodeCount } = network.graph
  const resistanceOhm = pairResistance(solver.factor, a, b)
  if (a === b || resistanceOhm === Infinity) {
    return { resistanceOhm, expectedOhm: resistanceOhm, spreadOhm: 0 }
  }
  const potentialV = pairPotentials(solver.factor, a, b, new Float64Array(nodeCount))
  yield 0.3
  const quadrature: ScatterQuadrature = new Map()
  const scatter = { meanOhm: new Float64Array(1), varianceOhm2: new Float64Array(1) }
  const byKind = new Float64Array(network.kinds.length)
  let expectedOhm = resistanceOhm
  let variance = 0
  for (let e = 0; e < conductanceS.length; e++) {
    if (e % jointsPerSlice === jointsPerSlice - 1) yield 0.3 + (0.7 * e) / conductanceS.length
    const current = conductanceS[e] * (potentialV[from[e]] - potentialV[to[e]])
    if (current === 0) continue
    const squared = current * current
    const ohm = scatteringOhmAt(network, conductanceS, e)
    enterScatter(quadrature, ohm, network.lnSpread[e], loopS[e], scatter, 0)
    expectedOhm += squared * scatter.meanOhm[0]
    variance += squared * squared * scatter.varianceOhm2[0]
    byKind[network.kind[e]] += squared * ohm
  }
  for (let k = 0; k < byKind.length; k++) {
    variance += (levelLnSd(network.kinds[k].id) * byKind[k]) ** 2
  }
  return { resistanceOhm, expectedOhm, spreadOhm: Math.sqrt(variance) }
}
