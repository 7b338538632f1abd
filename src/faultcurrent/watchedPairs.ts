import { pairPotentials } from '../network/solve.ts'
import type { FaultFlow } from './faultFlow.ts'
import type { Loss } from './lossKernel.ts'
import { unitCurrents } from './unitCurrents.ts'

/** Two parts between which volts are watched. */
export interface WatchedPair {
  readonly from: number
  readonly to: number
}

/** What one loss makes of a watched pair's volts at most. */
export interface Watched {
  readonly soundV: number
  readonly mostV: number
  /** The edge whose loss does it; −1 where none makes it more. */
  readonly edge: number
}

/** A watched pair, ready to be followed through a sweep. */
export interface Watch {
  readonly soundV: number
  /** Currents of edges per ampere through the pair, and volts of the pair per ampere of each port; null where nothing joins it. */
  readonly unitA: Float64Array | null
  readonly portOhm: Float64Array
  mostV: number
  edge: number
}

/** A rise below this is rounding. */
const leastV = 1e-9

/** One solve. O(edges). */
export function prepareWatch({ reduced, nodeV }: FaultFlow, { from, to }: WatchedPair): Watch {
  const { prepared, count, potentialV } = reduced
  const { network, solver } = prepared
  const { of } = network.electrical.islands
  const soundV = nodeV[from] - nodeV[to]
  const isJoined = of[from] === of[to] && from !== to
  const portOhm = new Float64Array(count)
  potentialV.forEach((x, q) => (portOhm[q] = x ? x[from] - x[to] : 0))
  const room = () => new Float64Array(network.graph.nodeCount)
  const unitA = isJoined ? unitCurrents(prepared, pairPotentials(solver.factor, from, to, room())) : null
  return { soundV, unitA, portOhm, mostV: Math.abs(soundV), edge: -1 }
}

/**
 * By reciprocity the volts of a gap appear between the pair in the share i that the joint carries of the pair's own ampere:
 * V = Σ_q R_q J_q + i · gap.
 */
export function watchLoss(watch: Watch, edge: number, { portA, gapV }: Loss): void {
  const { unitA, portOhm } = watch
  if (!unitA) return
  let volt = unitA[edge] * gapV
  for (let q = 0; q < portOhm.length; q++) volt += portOhm[q] * portA[q]
  if (!(Math.abs(volt) > watch.mostV * (1 + 1e-9) + leastV)) return
  watch.mostV = Math.abs(volt)
  watch.edge = edge
}

export function mostWatched({ soundV, mostV, edge }: Watch): Watched {
  return { soundV: Math.abs(soundV), mostV, edge }
}
