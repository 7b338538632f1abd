import { assert } from '../base/assert.ts'
import { inPortions, portion } from '../base/portion.ts'
import { analysePattern } from './analyse.ts'
import type { FactorPattern } from './analyse.ts'
import { factorNumeric } from './factor.ts'
import type { Factor } from './factor.ts'
import { adjacencyInPortions } from './graph.ts'
import type { Adjacency, Graph } from './graph.ts'
import { orderNodes } from './order.ts'

/** A network ready to be asked: structure, elimination order and factor. */
export interface Solver {
  readonly graph: Graph
  readonly conductanceS: Float64Array
  readonly adjacency: Adjacency
  readonly order: Int32Array
  readonly pattern: FactorPattern
  readonly factor: Factor
}

/**
 * Adjacency (where it is not given), order, pattern and values in one go, with the fraction done of all of it.
 */
export function* prepareSolver(
  graph: Graph,
  conductanceS: Float64Array,
  islandOf: Int32Array,
  reference: Int32Array,
  knownAdjacency?: Adjacency,
): Generator<number, Solver> {
  assert(islandOf.length === graph.nodeCount, 'every node needs an island')
  for (let i = 0; i < reference.length; i++) {
    assert(islandOf[reference[i]] === i, `the reference of island ${i} lies in another island`)
  }
  yield* portion(
    inPortions(graph.from.length, (first, end) => checkIslands(graph, islandOf, first, end)),
    0,
    0.02,
  )
  const adjacency = knownAdjacency ?? (yield* portion(adjacencyInPortions(graph), 0.02, 0.05))
  const elimination = yield* portion(orderNodes(graph, adjacency, reference), 0.07, 0.38)
  const pattern = yield* portion(analysePattern(graph, adjacency, elimination), 0.45, 0.2)
  const roots = countRoots(pattern.parent)
  assert(roots === reference.length, `${roots} islands were found, but ${reference.length} were given`)
  const factor = yield* portion(factorNumeric(pattern, graph, conductanceS), 0.65, 0.35)
  return { graph, conductanceS, adjacency, order: elimination.order, pattern, factor }
}

function checkIslands(graph: Graph, islandOf: Int32Array, first: number, end: number): void {
  for (let e = first; e < end; e++) {
    if (islandOf[graph.from[e]] !== islandOf[graph.to[e]]) assert(false, `edge ${e} joins two islands`)
  }
}

function countRoots(parent: Int32Array): number {
  let roots = 0
  for (let j = 0; j < parent.length; j++) if (parent[j] < 0) roots++
  return roots
}

/** The same structure with other conductances: only the values are computed again. */
export function* refactor(solver: Solver, conductanceS: Float64Array): Generator<number, Solver> {
  const factor = yield* factorNumeric(solver.pattern, solver.graph, conductanceS)
  return { ...solver, conductanceS, factor }
}
