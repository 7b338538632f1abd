import { prepareSolver } from './solver.ts'
import type { Solver } from './solver.ts'

/** Branches being gathered, and for each piece the node it leads into with what that node reads to remote earth. */
export interface SoilSketch {
  nodeCount: number
  readonly from: number[]
  readonly to: number[]
  readonly perM: number[]
  readonly pieceAt: Int32Array
  readonly pieceAtPerM: Float64Array
}

export function addBranch({ from, to, perM }: SoilSketch, a: number, b: number, ohmPerM: number): void {
  from.push(a)
  to.push(b)
  perM.push(ohmPerM)
}

/** Remote earth is the node after all others. */
export function solverOf({ nodeCount, from, to, perM }: SoilSketch): Generator<number, Solver> {
  const graph = {
    nodeCount: nodeCount + 1,
    from: Int32Array.from(from),
    to: Int32Array.from(to, (node) => (node < 0 ? nodeCount : node)),
  }
  const siemens = Float64Array.from(perM, (ohm) => 1 / ohm)
  return prepareSolver(graph, siemens, new Int32Array(nodeCount + 1), Int32Array.of(nodeCount))
}
