import { assert } from '../base/assert.ts'
import type { Graph } from './graph.ts'
import { BRIDGE_CURRENT_SLACK } from './tolerances.ts'

/**
 * Currents in all edges per ampere sent through a pair, from the potentials that the ampere raises:
 *
 *   i_e = g_e (x_from − x_to)
 *
 * positive along from → to. O(edges). The rounding error of i_e is about g_e ε max|x|.
 */
export function edgeCurrents(
  graph: Graph,
  conductanceS: Float64Array,
  potentialV: Float64Array,
  out: Float64Array,
): Float64Array {
  const { from, to } = graph
  for (let e = 0; e < from.length; e++) out[e] = conductanceS[e] * (potentialV[from[e]] - potentialV[to[e]])
  return out
}

/**
 * A bridge carries the whole ampere or nothing at all. Sets the currents of bridges to exactly −1, 0 or 1,
 * so that an open bridge off the path of a pair reads as no change instead of ∞ times a rounding error.
 */
export function settleBridgeCurrents(isBridge: Uint8Array, currentA: Float64Array): Float64Array {
  for (let e = 0; e < isBridge.length; e++) if (isBridge[e] === 1) currentA[e] = bridgeCurrent(currentA[e])
  return currentA
}

/** The nearest of −1, 0 and 1. Throws when the value is near none of them: then the solution is wrong. */
export function bridgeCurrent(currentA: number): number {
  const settled = Math.sign(Math.round(currentA)) + 0 // no −0
  assert(Math.abs(currentA - settled) <= BRIDGE_CURRENT_SLACK, `a bridge carries ${currentA} A of one ampere`)
  return settled
}
