import { inPortions, wholly } from '../base/portion.ts'
import type { Factor } from './factor.ts'
import type { Graph } from './graph.ts'
import { solveInPlace } from './solve.ts'

/**
 * What the current law lacks at each node: injected − Σ currents that leave by edges, in amperes. O(edges).
 */
export function imbalanceA(
  graph: Graph,
  conductanceS: Float64Array,
  potentialV: Float64Array,
  injectedA: Float64Array,
): Float64Array {
  const { from, to } = graph
  const lack = injectedA.slice()
  for (let e = 0; e < from.length; e++) {
    const i = conductanceS[e] * (potentialV[from[e]] - potentialV[to[e]])
    lack[from[e]] -= i
    lack[to[e]] += i
  }
  return lack
}

/** As `residualInPortions`, in one go. */
export function kirchhoffResidual(
  graph: Graph,
  conductanceS: Float64Array,
  potentialV: Float64Array,
  injectedA: Float64Array,
): number {
  return wholly(residualInPortions(graph, conductanceS, potentialV, injectedA))
}

/**
 * Largest breach of Kirchhoff's current law. At each node |injected − Σ currents out|, relative to the Σ
 * |currents| at the node or to the largest injected current, whichever is more: where no current should flow,
 * rounding leaves a trickle that must not be compared with itself. `injectedA` sums to zero on every island.
 * 0 when nothing is injected and nothing flows. O(edges). Double precision leaves about 1e-16 · g · max|V|
 * per ampere in an edge of g siemens. Yields the fraction done.
 */
export function* residualInPortions(
  graph: Graph,
  conductanceS: Float64Array,
  potentialV: Float64Array,
  injectedA: Float64Array,
): Generator<number, number> {
  const { from, to, nodeCount } = graph
  const through = new Float64Array(nodeCount)
  const lack = injectedA.slice()
  const flow = (first: number, end: number) => {
    for (let e = first; e < end; e++) {
      const i = conductanceS[e] * (potentialV[from[e]] - potentialV[to[e]])
      const size = Math.abs(i)
      lack[from[e]] -= i
      lack[to[e]] += i
      through[from[e]] += size
      through[to[e]] += size
    }
  }
  yield* inPortions(from.length, flow)
  return largestLack(lack, through, injectedA)
}

function largestLack(lack: Float64Array, through: Float64Array, injectedA: Float64Array): number {
  let scale = 0
  for (let v = 0; v < injectedA.length; v++) scale = Math.max(scale, Math.abs(injectedA[v]))
  let largest = 0
  for (let v = 0; v < lack.length; v++) {
    if (lack[v] !== 0) largest = Math.max(largest, Math.abs(lack[v]) / Math.max(through[v], scale))
  }
  return largest
}

/**
 * One step of iterative refinement: the potentials δ that the lacking currents raise. Potentials themselves
 * are already as good as doubles hold them; what refinement mends are currents through strong edges, which
 * are differences of nearly equal potentials. So δ is returned and not added: i_e = g (V_u − V_v) + g (δ_u −
 * δ_v), where the first difference is exact for neighbours of nearly equal potential (Sterbenz 1974). One
 * solve.
 */
export function refine(
  factor: Factor,
  graph: Graph,
  conductanceS: Float64Array,
  potentialV: Float64Array,
  injectedA: Float64Array,
): Float64Array {
  return solveInPlace(factor, imbalanceA(graph, conductanceS, potentialV, injectedA))
}
