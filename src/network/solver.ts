import { assert } from '../base/assert.ts'
import { portion } from '../base/portion.ts'
import { analysePattern } from './analyse.ts'
import type { FactorPattern } from './analyse.ts'
import { factorNumeric } from './factor.ts'
import type { Factor } from './factor.ts'
import { adjacencyOf } from './graph.ts'
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

/** Adjacency, order, pattern and values in one go, with the fraction done of all of it. */
export function* prepareSolver(
  graph: Graph,
  conductanceS: Float64Array,
  islandOf: Int32Array,
  reference: Int32Array,
): Generator<number, Solver> {
  assert(islandOf.length === graph.nodeCount, 'every node needs an island')
  for (let i = 0; i < reference.length; i++) {
    assert(islandOf[reference[i]] === i, `the reference of island ${i} lies in another island`)
  }
  for (let e = 0; e < graph.from.length; e++) {
    if (islandOf[graph.from[e]] !== islandOf[graph.to[e]]) assert(false, `edge ${e} joins two islands`)
  }
  const adjacency = adjacencyOf(graph)
  const order = yield* portion(orderNodes(graph, adjacency, reference), 0, 0.45)
  const pattern = yield* portion(analysePattern(graph, adjacency, order), 0.45, 0.2)
  let roots = 0
  for (const up of pattern.parent) if (up < 0) roots++
  assert(roots === reference.length, `${roots} islands were found, but ${reference.length} were given`)
  const factor = yield* portion(factorNumeric(pattern, graph, conductanceS), 0.65, 0.35)
  return { graph, conductanceS, adjacency, order, pattern, factor }
}

/** The same structure with other conductances: only the values are computed again. */
export function* refactor(solver: Solver, conductanceS: Float64Array): Generator<number, Solver> {
  const factor = yield* factorNumeric(solver.pattern, solver.graph, conductanceS)
  return { ...solver, conductanceS, factor }
}
