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

/** 1 − h of every edge, with its R and h, from the factor. */
function* leverageWith(network: Network, solver: Solver): Generator<number, Leverages> {
  const { isBridge } = network.electrical.blocks
  const endsOhm = yield* portion(edgeResistance(solver.factor, network.graph), 0, 0.7)
  const rough = yield* portion(leverageInPortions(endsOhm, solver.conductanceS, isBridge), 0.7, 0.1)
  const { leverage, slack } = yield* portion(sharpenSlack(solver, rough, isBridge), 0.8, 0.2)
  return { endsOhm, leverage, slack }
}

type Leverages = Pick<PreparedNetwork, 'endsOhm' | 'leverage' | 'slack'>

/** Orders, factors and inverts selectively, at the median ohms of the network. */
export function* prepareNetwork(network: Network): Generator<number, PreparedNetwork> {
  const conductanceS = inverted(network.medianOhm)
  yield 0
  const { graph, adjacency, references } = network
  const { of } = network.electrical.islands
  const solver = yield* portion(prepareSolver(graph, conductanceS, of, references, adjacency), 0, 0.6)
  const leverages = yield* portion(leverageWith(network, solver), 0.6, 0.4)
  const loopS = loopConductanceS(conductanceS, leverages.slack)
  return { network, conductanceS, solver, ...leverages, loopS }
}

/** A prepared network at another soil level: what the currents of pairs and the effect of joints are read from. */
export type SoilLevel = Pick<PreparedNetwork, 'network' | 'conductanceS' | 'solver' | 'loopS'>

/**
 * The same network in soil whose resistivity is `soilFactor` times the stated one: only earth paths change,
 * so the elimination order and pattern are kept.
 */
export function* atSoilLevel(prepared: PreparedNetwork, soilFactor: number): Generator<number, SoilLevel> {
  const { network } = prepared
  const conductanceS = prepared.conductanceS.slice()
  divideEarthPaths(conductanceS, network.isEarthPath, soilFactor)
  yield 0
  const solver = yield* portion(refactor(prepared.solver, conductanceS), 0, 0.5)
  const { slack: loopS } = yield* portion(leverageWith(network, solver), 0.5, 0.5)
  for (let e = 0; e < loopS.length; e++) loopS[e] *= conductanceS[e]
  return { network, conductanceS, solver, loopS }
}

function inverted(ohm: Float64Array): Float64Array {
  const conductanceS = new Float64Array(ohm.length)
  for (let e = 0; e < ohm.length; e++) conductanceS[e] = 1 / ohm[e]
  return conductanceS
}

function divideEarthPaths(conductanceS: Float64Array, isEarthPath: Uint8Array, factor: number): void {
  for (let e = 0; e < conductanceS.length; e++) if (isEarthPath[e] === 1) conductanceS[e] /= factor
}
