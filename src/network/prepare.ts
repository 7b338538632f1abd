import { portion } from '../base/portion.ts'
import type { Network } from './compile.ts'
import { loopConductanceS } from './jointSweep.ts'
import { edgeResistance, leverageInPortions } from './leverage.ts'
import { sharpenSlack } from './pathBeside.ts'
import { prepareSolver, refactor, type Solver } from './solver.ts'

/** A network with everything that answers are read from. */
export interface PreparedNetwork {
  readonly network: Network
  /** Conductance of every edge at its median ohms. */
  readonly conductanceS: Float64Array
  readonly solver: Solver
  /** Effective resistance across each edge's own ends, in ohm. */
  readonly endsOhm: Float64Array
  readonly leverage: Float64Array
  /** 1 − leverage; exactly 0 for a bridge of the electrical network. */
  readonly slack: Float64Array
  /** c = g (1 − h): what limits the effect of a joint that goes bad; 0 for a bridge. */
  readonly loopS: Float64Array
}

function* withSolver(network: Network, solver: Solver, from: number): Generator<number, PreparedNetwork> {
  const { conductanceS } = solver
  const { isBridge } = network.electrical.blocks
  const endsOhm = yield* portion(edgeResistance(solver.factor, network.graph), from, 0.89 - from)
  yield 0.9
  const rough = yield* portion(leverageInPortions(endsOhm, conductanceS, isBridge), 0.9, 0.02)
  const { leverage, slack } = yield* portion(sharpenSlack(solver, rough, isBridge), 0.92, 0.07)
  yield 1
  const loopS = loopConductanceS(conductanceS, slack)
  return { network, conductanceS, solver, endsOhm, leverage, slack, loopS }
}

/** Orders, factors and inverts selectively, at the median ohms of the network. */
export function* prepareNetwork(network: Network): Generator<number, PreparedNetwork> {
  const conductanceS = inverted(network.medianOhm)
  yield 0
  const { graph, adjacency, references } = network
  const { of } = network.electrical.islands
  const solver = yield* portion(prepareSolver(graph, conductanceS, of, references, adjacency), 0, 0.6)
  return yield* withSolver(network, solver, 0.6)
}

/**
 * The same network in soil whose resistivity is `soilFactor` times the stated one: only earth paths change,
 * so the elimination order and pattern are kept.
 */
export function* atSoilLevel(
  prepared: PreparedNetwork,
  soilFactor: number,
): Generator<number, PreparedNetwork> {
  const { network } = prepared
  const conductanceS = prepared.conductanceS.slice()
  divideEarthPaths(conductanceS, network.isEarthPath, soilFactor)
  yield 0
  const solver = yield* portion(refactor(prepared.solver, conductanceS), 0, 0.5)
  return yield* withSolver(network, solver, 0.5)
}

function inverted(ohm: Float64Array): Float64Array {
  const conductanceS = new Float64Array(ohm.length)
  for (let e = 0; e < ohm.length; e++) conductanceS[e] = 1 / ohm[e]
  return conductanceS
}

function divideEarthPaths(conductanceS: Float64Array, isEarthPath: Uint8Array, factor: number): void {
  for (let e = 0; e < conductanceS.length; e++) if (isEarthPath[e] === 1) conductanceS[e] /= factor
}
