import { prepareSolver, type Solver } from '../../src/network/solver.ts'
import type { Network } from './randomNetworks.ts'
import { runToEnd } from './runToEnd.ts'

/** The network ordered, analysed and factored. */
export function solved({ graph, conductanceS, islandOf, reference }: Network): Solver {
  return runToEnd(prepareSolver(graph, conductanceS, islandOf, reference))
}

/** |value / expected − 1|; 0 when both are 0 or both infinite. */
export function relativeError(value: number, expected: number): number {
  return value === expected ? 0 : Math.abs(value / expected - 1)
}
