import { portion, staged } from '../base/portion.ts'
import { fail, ok, type Result } from '../base/result.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import { writePartAddress } from '../model/address.ts'
import type { CurrentsAnswer, JointCurrent } from '../model/answers.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { edgeCurrents, settleBridgeCurrents } from '../network/currents.ts'
import { endOf, jointMedianOhm } from '../network/earthPath.ts'
import { residualInPortions } from '../network/residual.ts'
import { pairPotentials } from '../network/solve.ts'
import { askPair, resistanceOfPair, type AskedPair } from './answerResistance.ts'
import { jointAddressOf } from './networkRows.ts'
import type { Progress } from './progress.ts'
import type { CurrentsInput } from './requests.ts'
import type { SiteCache } from './siteCache.ts'

/** Share of an ampere below which a joint counts as carrying nothing: rounding leaves some 1e-12. */
export const leastShare = 1e-9
/** Rounding leaves some 1e-11 of the current at a part; above this an error of the program would be shown. */
export const mostResidual = 1e-6

/** Current in every joint per ampere through a pair, largest first: i = g (x_from − x_to). */
export function* answerCurrents(
  input: CurrentsInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<CurrentsAnswer, readonly Problem[]>> {
  const asked = yield* askPair(input, site, cache)
  if (!asked.ok) return asked
  const resistance = yield* resistanceOfPair(site, asked.value)
  if (resistance.path === 'none')
    return ok({ ...resistance, currents: [], jointsWithCurrent: 0, residual: 0 })
  const balanced = portion(currentsOfPair(asked.value), 0.5, 0.4)
  const flow = yield* staged('currents', balanced)
  const { currentA, residual } = flow
  if (!(residual <= mostResidual))
    return fail([problem('numeric.residual', { residual, most: mostResidual })])
  yield { stage: 'currents', fraction: 0.9 }
  const edges = largestFirst(currentA)
  const listed = edges.subarray(0, input.most ?? edges.length)
  const currents = Array.from(listed, (edge) => jointCurrent(asked.value, flow, edge))
  return ok({ ...resistance, currents, jointsWithCurrent: edges.length, residual })
}

export interface PairCurrents {
  /** Of every joint that is counted. */
  readonly currentA: Float64Array
  /** Of every node. */
  readonly potentialV: Float64Array
  readonly residual: number
}

/**
 * Currents of all joints per ampere through a pair, and how well they balance at every part. Yields the fraction done.
 */
export function* currentsOfPair({ prepared, pair }: AskedPair): Generator<number, PairCurrents> {
  const { network, solver, conductanceS } = prepared
  const { graph } = network
  yield 0
  const potentialV = pairPotentials(solver.factor, pair.a, pair.b, new Float64Array(graph.nodeCount))
  yield 0.3
  const injectedA = new Float64Array(graph.nodeCount)
  injectedA[pair.a] = 1
  injectedA[pair.b] = -1
  const balance = residualInPortions(graph, conductanceS, potentialV, injectedA)
  const residual = yield* portion(balance, 0.3, 0.4)
  const currentA = edgeCurrents(graph, conductanceS, potentialV, new Float64Array(graph.from.length))
  yield 0.8
  const settled = settleBridgeCurrents(network.electrical.blocks.isBridge, currentA)
  return { currentA: settled.subarray(0, network.edgeCount), potentialV, residual }
}

/** Edges with current, by its size; of equal ones the lower number first, so that the order never changes. */
function largestFirst(currentA: Float64Array): Int32Array {
  let count = 0
  for (const current of currentA) if (Math.abs(current) >= leastShare) count++
  const edges = new Int32Array(count)
  let at = 0
  currentA.forEach((current, edge) => {
    if (Math.abs(current) >= leastShare) edges[at++] = edge
  })
  return edges.sort((e, f) => Math.abs(currentA[f]) - Math.abs(currentA[e]) || e - f)
}

/** Along an earth path the volts are those from its part to remote earth, what others raise in its soil among them. */
function jointCurrent(
  { prepared }: AskedPair,
  { currentA, potentialV }: PairCurrents,
  edge: number,
): JointCurrent {
  const { network } = prepared
  const { index, graph, kinds, kind } = network
  const from = graph.from[edge]
  const to = endOf(network, graph.to[edge])
  const ohm = jointMedianOhm(network, edge)
  const part = (node: number) => writePartAddress(partAddressAt(index, node))
  return {
    joint: jointAddressOf(network, index, edge),
    kind: kinds[kind[edge]].id,
    from: part(from),
    to: part(to),
    perAmpere: currentA[edge],
    ohm,
    voltPerAmpere: to === graph.to[edge] ? currentA[edge] * ohm : potentialV[from] - potentialV[to],
  }
}
