import { inPortions, portion } from '../base/portion.ts'
import type { Network } from '../network/compile.ts'
import {
  conductanceAt,
  currentsOfPair,
  emptyEdgeSquares,
  type CurrentSource,
  type EdgeSquares,
} from '../network/pairCurrents.ts'
import { pairResistance } from '../network/pairResistance.ts'
import type { SoilLevel } from '../network/prepare.ts'
import { laterEdges } from '../network/laterEdges.ts'
import { throughOf } from '../network/through.ts'
import { levelLnSd } from './assumptions.ts'
import { leftLoopS } from './clampedLoop.ts'
import { enterScatter, type JointScatter, type ScatterQuadrature } from './jointScatter.ts'
import { scatteringOhmAt } from './pairPrediction.ts'

/**
 * A joint whose opening moves a reading by less than so many ohms is not in the reading's row, and parts of the
 * network that hold less than this of the pair's ohms are not looked at. In proportion to the number of joints, of
 * which a small site can afford to follow all: 0.1 nΩ on the demo field, 30 nΩ on a site of a million joints.
 */
const leastOhmPerJoint = 3e-14

/** A pair of nodes, or the ends of the edge that the jaws of a loop clamp are closed around. */
export interface ReadPair {
  readonly a: number
  readonly b: number
  /** The edge; −1 or absent for a pair that is read across. */
  readonly around?: number
}

/** What one pair of nodes has to do with every joint. */
export interface PairReach {
  /** c of the edge in the jaws of a loop clamp (`clampedLoop.ts`); 0 for a pair that is read across. */
  readonly ofLoopS: number
  /** Mean resistance over the scatter of the joints, in ohm; Infinity where nothing joins the two. */
  readonly meanOhm: number
  /** Joints with a share of the pair's current that matters, ascending, and the share squared. */
  readonly edge: Int32Array
  readonly squared: Float64Array
  /** The same as far as scatter goes: of a loop reading larger, as the joints scatter more where e is lifted. */
  readonly scatterShare: Float64Array
  /** Variance of the effective rise of each of these joints, in ohm² (`scatterOfJoints`). */
  readonly varianceOhm2: Float64Array
  /** Per joint kind: its level's spread · Σ squared · scattering ohms, what the pair owes to that level. */
  readonly byKind: Float64Array
}

/** A network at one soil level, made ready for following the currents of pairs. */
export interface PairSource {
  readonly network: Network
  readonly source: CurrentSource
  /** c = g (1 − h) of every joint. */
  readonly loopS: Float64Array
  readonly quadrature: ScatterQuadrature
  /** Scatter of joints read across, NaN where not worked out yet; null beside another source, to save the memory. */
  readonly known: JointScatter | null
  /** Work arrays that nobody has in hand. */
  readonly spare: PairWork[]
}

/** Work arrays for one pair; all zero between two pairs. */
export interface PairWork {
  readonly reached: EdgeSquares
  /** By node. */
  readonly potentialV: Float64Array
  /** By edge: squared shares. */
  readonly dense: Float64Array
}

export function takeWork({ spare, network }: PairSource): PairWork {
  const { nodeCount } = network.graph
  return (
    spare.pop() ?? {
      reached: emptyEdgeSquares(),
      potentialV: new Float64Array(nodeCount),
      dense: new Float64Array(network.graph.from.length),
    }
  )
}

/**
 * A source of pairs. `beside`: that of the same network at another soil level, whose structure and scratch serve this
 * one too. O(nodes + joints), of which most is the bounds on what passes through each part.
 */
export function* openPairSource(
  { network, solver, conductanceS, loopS }: SoilLevel,
  soilFactor: number,
  beside: PairSource | null = null,
): Generator<number, PairSource> {
  const { adjacency } = solver
  const scratch = beside?.source.factor.scratch ?? solver.factor.scratch
  const factor = { ...solver.factor, scratch }
  const bounds = yield* throughOf(factor, adjacency, conductanceS, loopS)
  const through = beside ? { ...bounds, subtreeStart: beside.source.through.subtreeStart } : bounds
  const { isBridge } = network.electrical.blocks
  const { isEarthPath } = network
  const later =
    beside?.source.later ??
    (yield* laterEdges(factor.pattern, adjacency, { conductanceS, isEarthPath, isBridge }))
  // earth paths alone differ, and they by one factor: what the level was factored with need not be kept
  const ofSource = beside
    ? { conductanceS: beside.source.conductanceS, soilFactor }
    : { conductanceS, soilFactor: 1 }
  return {
    network,
    source: { factor, later, ...ofSource, isEarthPath, through },
    loopS,
    quadrature: beside?.quadrature ?? new Map<number, Float64Array>(),
    known: beside ? null : unknownScatter(network.graph.from.length),
    spare: beside?.spare ?? [],
  }
}

/**
 * One solve where the pair's current goes: R, squared currents, mean R + Σ i² E s; for a loop clamp of the network with
 * the joint in its jaws lifted out, 1/c and squared shares of the clamp's ampere. The ohms of the pair that lie
 * where its current was not followed, R − Σ i² r, are taken to scatter as the others do on average. `leastOhm`: joints whose opening moves the reading by less
 * are left out; where it is not given, so few that no covariance misses them. O(what the current reaches).
 */
export function* followPair(
  from: PairSource,
  { a, b, around = -1 }: ReadPair,
  leastOhm = leastOhmPerJoint * from.network.edgeCount,
): Generator<number, PairReach> {
  const { network, source, loopS } = from
  const byKind = new Float64Array(network.kinds.length)
  const ofLoopS = around < 0 ? 0 : loopS[around]
  const ohm = around < 0 ? pairResistance(source.factor, a, b) : 1 / ofLoopS
  if (a === b || ohm === Infinity) {
    const none = new Float64Array(0)
    const shares = { squared: none, scatterShare: none, varianceOhm2: none }
    return { ofLoopS, meanOhm: ohm, edge: new Int32Array(0), ...shares, byKind }
  }
  // per ampere round the loop, no more than 1 − h of one that enters at the ends leaves the joint in the jaws
  const slack = around < 0 ? 1 : ofLoopS / conductanceAt(source, around)
  const work = takeWork(from)
  const { reached, potentialV } = work
  yield* portion(currentsOfPair(source, a, b, leastOhm * slack * slack, reached, potentialV), 0, 0.5)
  if (around >= 0) lift(reached, around, slack)
  const { shiftOhm, followedOhm } = yield* portion(sumScatter(from, reached, ofLoopS, byKind), 0.5, 0.3)
  const whole = ohm / followedOhm
  for (let kind = 0; kind < byKind.length; kind++) byKind[kind] *= whole * levelLnSd(network.kinds[kind].id)
  const entries = yield* portion(entriesThatMatter(from, work, ofLoopS, leastOhm), 0.8, 0.2)
  from.spare.push(work)
  return { ofLoopS, meanOhm: ohm + shiftOhm * whole, ...entries, byKind }
}

/** Squared shares of the ampere that a clamp round edge `around` drives, from those of one through the edge's ends. */
function lift({ count, edge, squared }: EdgeSquares, around: number, slack: number): void {
  for (let k = 0; k < count; k++) squared[k] = edge[k] === around ? 1 : squared[k] / slack / slack
}

function unknownScatter(edges: number): JointScatter {
  return { meanOhm: new Float64Array(edges).fill(NaN), varianceOhm2: new Float64Array(edges) }
}

/** Mean and variance of the effective rise of joint `e` beside `loopS`, into the single place of `out`. */
function writeScatter(from: PairSource, e: number, ohm: number, loopS: number, out: JointScatter): void {
  const { network, quadrature } = from
  const known = loopS === from.loopS[e] ? from.known : null
  if (known && !Number.isNaN(known.meanOhm[e])) {
    out.meanOhm[0] = known.meanOhm[e]
    out.varianceOhm2[0] = known.varianceOhm2[e]
    return
  }
  enterScatter(quadrature, ohm, network.lnSpread[e], loopS, out, 0)
  if (!known) return
  known.meanOhm[e] = out.meanOhm[0]
  known.varianceOhm2[e] = out.varianceOhm2[0]
}

/** The ohms of a joint that scatter, at the source's soil level. */
function scatteringOhm({ network, source }: PairSource, e: number): number {
  if (network.isEarthPath[e] === 1) return 1 / conductanceAt(source, e)
  return scatteringOhmAt(network, source.conductanceS, e)
}

/** Σ i² E s and Σ i² r, and into `byKind` Σ i² · scattering ohms. */
function* sumScatter(from: PairSource, reached: EdgeSquares, ofLoopS: number, byKind: Float64Array) {
  const sums = { shiftOhm: 0, followedOhm: 0 }
  const add = (first: number, end: number) => addScatter(from, reached, ofLoopS, first, end, sums, byKind)
  yield* inPortions(reached.count, add)
  return sums
}

function addScatter(
  from: PairSource,
  { edge, squared }: EdgeSquares,
  ofLoopS: number,
  first: number,
  end: number,
  sums: { shiftOhm: number; followedOhm: number },
  byKind: Float64Array,
): void {
  const { network, source, loopS } = from
  const scatter = { meanOhm: new Float64Array(1), varianceOhm2: new Float64Array(1) }
  for (let k = first; k < end; k++) {
    const e = edge[k]
    const share = squared[k]
    const ohm = scatteringOhm(from, e)
    writeScatter(from, e, ohm, leftLoopS(loopS[e], share, ofLoopS), scatter)
    sums.shiftOhm += share * scatter.meanOhm[0]
    sums.followedOhm += share / conductanceAt(source, e)
    if (network.isEarthPath[e] === 0) byKind[network.kind[e]] += share * ohm
  }
}

type Entries = Pick<PairReach, 'edge' | 'squared' | 'scatterShare' | 'varianceOhm2'>

/** The entries of a row, by ascending joint. */
function* entriesThatMatter(
  from: PairSource,
  work: PairWork,
  ofLoopS: number,
  leastOhm: number,
): Generator<number, Entries> {
  const { loopS } = from
  const { reached, dense } = work
  const { count, edge, squared } = reached
  const kept = new Int32Array(count)
  let keptCount = 0
  const keep = (first: number, end: number) => {
    for (let k = first; k < end; k++) {
      if (squared[k] < leastOhm * leftLoopS(loopS[edge[k]], squared[k], ofLoopS)) continue
      dense[edge[k]] = squared[k]
      kept[keptCount++] = edge[k]
    }
  }
  yield* portion(inPortions(count, keep), 0, 0.4)
  const ascending = kept.slice(0, keptCount).sort()
  yield 0.6
  const shares = new Float64Array(keptCount)
  const entries: Entries = {
    edge: ascending,
    squared: shares,
    scatterShare: ofLoopS === 0 ? shares : new Float64Array(keptCount),
    varianceOhm2: new Float64Array(keptCount),
  }
  yield* portion(
    inPortions(keptCount, (first, end) => writeEntries(from, dense, ofLoopS, entries, first, end)),
    0.6,
    0.4,
  )
  return entries
}

/**
 * A joint that scatters by s beside one c and by s' beside another moves two readings along together: both rise with its
 * ohms, so their covariance is taken as sd(s) sd(s').
 */
function writeEntries(
  from: PairSource,
  dense: Float64Array,
  ofLoopS: number,
  { edge, squared, scatterShare, varianceOhm2 }: Entries,
  first: number,
  end: number,
): void {
  const { loopS } = from
  const scatter = { meanOhm: new Float64Array(1), varianceOhm2: new Float64Array(1) }
  for (let k = first; k < end; k++) {
    const e = edge[k]
    const ohm = scatteringOhm(from, e)
    squared[k] = dense[e]
    dense[e] = 0
    writeScatter(from, e, ohm, loopS[e], scatter)
    varianceOhm2[k] = scatter.varianceOhm2[0]
    if (ofLoopS === 0) continue
    writeScatter(from, e, ohm, leftLoopS(loopS[e], squared[k], ofLoopS), scatter)
    const wider = varianceOhm2[k] > 0 ? scatter.varianceOhm2[0] / varianceOhm2[k] : 1
    scatterShare[k] = squared[k] * Math.sqrt(wider)
  }
}
