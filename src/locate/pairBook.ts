import { present } from '../base/assert.ts'
import { portion } from '../base/portion.ts'
import type { Network } from '../network/compile.ts'
import {
  currentsOfPair,
  emptyEdgeSquares,
  type CurrentSource,
  type EdgeSquares,
} from '../network/pairCurrents.ts'
import { pairResistance } from '../network/pairResistance.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { throughOf } from '../network/through.ts'
import { levelLnSd } from '../reading/assumptions.ts'
import { enterScatter, type JointScatter, type ScatterQuadrature } from '../reading/jointScatter.ts'
import { scatteringOhmAt } from '../reading/pairPrediction.ts'

/**
 * A joint whose opening moves a reading by less than so many ohms is not in the reading's row, and parts of the
 * network that hold less than this of the pair's ohms are not looked at. In proportion to the number of joints, of
 * which a small site can afford to follow all: 0.1 nΩ on the demo field, 30 nΩ on a site of a million joints.
 */
const leastOhmPerJoint = 3e-14

/** What one pair of nodes has to do with every joint and with the pairs before it in its book. */
export interface PairRow {
  readonly number: number
  /** Mean resistance over the scatter of the joints, in ohm; Infinity where nothing joins the two. */
  readonly meanOhm: number
  /** Joints with a share of the pair's current that matters, ascending, and the share squared. */
  readonly edge: Int32Array
  readonly squared: Float64Array
  /** Variance of the effective rise of each of these joints, in ohm² (`scatterOfJoints`). */
  readonly varianceOhm2: Float64Array
  /** Per joint kind: its level's spread · Σ squared · scattering ohms, what the pair owes to that level. */
  readonly byKind: Float64Array
  /** Covariance with every pair up to itself by number, in ohm². */
  readonly covariance: Float64Array
}

/**
 * The pairs of one network that readings were taken between. A row depends on its own pair alone, a covariance on
 * its two pairs alone, and neither on what else is in the book or when it came in: sums go over the joints in an
 * order that only the pair decides. So that what was worked out for earlier readings serves the next ones, bit for bit.
 */
export interface PairBook {
  readonly network: Network
  readonly source: CurrentSource
  /** c = g (1 − h) of every joint. */
  readonly loopS: Float64Array
  readonly quadrature: ScatterQuadrature
  /** Work arrays that nobody has in hand. */
  readonly spare: EdgeSquares[]
  /** Squared shares by joint of the pair that is in hand; all zero between two pauses. */
  readonly dense: Float64Array
  readonly rows: Map<string, PairRow>
  readonly inOrder: PairRow[]
  /** Entries of all rows, to bound what is kept. */
  entries: number
}

/**
 * A book without pairs. `beside`: the book of the same network at another soil level, whose structure and scratch
 * serve this one too. O(nodes + joints), of which most is the bounds on what passes through each part.
 */
export function* openPairBook(
  { network, solver, conductanceS, loopS }: PreparedNetwork,
  beside: PairBook | null = null,
): Generator<number, PairBook> {
  const { adjacency } = solver
  const scratch = beside?.source.factor.scratch ?? solver.factor.scratch
  const factor = { ...solver.factor, scratch }
  const bounds = yield* throughOf(factor, adjacency, conductanceS, loopS)
  const through = beside ? { ...bounds, subtreeStart: beside.source.through.subtreeStart } : bounds
  const { isBridge } = network.electrical.blocks
  const jointCount = conductanceS.length
  return {
    network,
    source: { factor, adjacency, conductanceS, isBridge, through },
    loopS,
    quadrature: beside?.quadrature ?? new Map<number, Float64Array>(),
    spare: beside?.spare ?? [],
    dense: beside?.dense ?? new Float64Array(jointCount),
    rows: new Map(),
    inOrder: [],
    entries: 0,
  }
}

/** Forgets all rows; what was handed out stays whole. */
export function emptyPairBook(book: PairBook): void {
  book.rows.clear()
  book.inOrder.length = 0
  book.entries = 0
}

const keyOf = (a: number, b: number) => (a < b ? `${a} ${b}` : `${b} ${a}`)

/** The rows of these pairs, in their order; those that are not in the book yet are solved and entered. */
export function* rowsOfPairs(
  book: PairBook,
  pairs: readonly { readonly a: number; readonly b: number }[],
): Generator<number, readonly PairRow[]> {
  const rows: PairRow[] = []
  for (const { a, b } of pairs) {
    const key = keyOf(a, b)
    if (!book.rows.has(key)) {
      const reach = yield* portion(
        followPair(book, Math.min(a, b), Math.max(a, b)),
        rows.length / pairs.length,
        0,
      )
      // meanwhile another ranking on the same book may have entered the pair
      if (!book.rows.has(key)) enter(book, key, reach)
      yield (rows.length + 1) / pairs.length
    }
    rows.push(present(book.rows.get(key), 'the pair was just entered'))
  }
  return rows
}

export function covarianceOf(one: PairRow, other: PairRow): number {
  return one.number > other.number ? one.covariance[other.number] : other.covariance[one.number]
}

type Reach = Omit<PairRow, 'number' | 'covariance'>

/**
 * One solve where the pair's current goes: R, squared currents, mean R + Σ i² E s. The ohms of the pair that lie
 * where its current was not followed, R − Σ i² r, are taken to scatter as the others do on average. O(what the
 * current reaches).
 */
function* followPair(book: PairBook, a: number, b: number): Generator<number, Reach> {
  const { network, source } = book
  const byKind = new Float64Array(network.kinds.length)
  const ohm = pairResistance(source.factor, a, b)
  if (a === b || ohm === Infinity) {
    const none = new Float64Array(0)
    return { meanOhm: ohm, edge: new Int32Array(0), squared: none, varianceOhm2: none, byKind }
  }
  const leastOhm = leastOhmPerJoint * network.edgeCount
  const reached = currentsOfPair(source, a, b, leastOhm, book.spare.pop() ?? emptyEdgeSquares())
  yield 0.5
  const { shiftOhm, followedOhm } = sumScatter(book, reached, byKind)
  const whole = ohm / followedOhm
  for (let kind = 0; kind < byKind.length; kind++) byKind[kind] *= whole * levelLnSd(network.kinds[kind].id)
  yield 0.8
  const entries = entriesThatMatter(book, reached, leastOhm)
  book.spare.push(reached)
  return { meanOhm: ohm + shiftOhm * whole, ...entries, byKind }
}

/**
 * Enters a pair with its covariance with each earlier pair q: Σ i_p² i_q² Var s over joints + Σ_kind (level sd)²
 * (Σ i_p² r)(Σ i_q² r), earth paths without a level of their own. O(entries of all rows).
 */
function enter(book: PairBook, key: string, reach: Reach): void {
  const { inOrder, dense } = book
  const row: PairRow = { ...reach, number: inOrder.length, covariance: new Float64Array(inOrder.length + 1) }
  const { edge, squared, covariance } = row
  for (let k = 0; k < edge.length; k++) dense[edge[k]] = squared[k]
  for (const other of [...inOrder, row])
    covariance[other.number] = scatterShared(dense, other) + levelShared(row, other)
  for (let k = 0; k < edge.length; k++) dense[edge[k]] = 0
  book.rows.set(key, row)
  inOrder.push(row)
  book.entries += edge.length
}

/** Mean and variance of the effective rise of joint `e`, into the single place of `out`. */
function writeScatter(
  { network, loopS, quadrature }: PairBook,
  e: number,
  ohm: number,
  out: JointScatter,
): void {
  enterScatter(quadrature, ohm, network.lnSpread[e], loopS[e], out, 0)
}

/** Σ i² E s and Σ i² r, and into `byKind` Σ i² · scattering ohms. */
function sumScatter(book: PairBook, { count, edge, squared }: EdgeSquares, byKind: Float64Array) {
  const { network, source } = book
  const { conductanceS } = source
  const scatter = { meanOhm: new Float64Array(1), varianceOhm2: new Float64Array(1) }
  let shiftOhm = 0
  let followedOhm = 0
  for (let k = 0; k < count; k++) {
    const e = edge[k]
    const share = squared[k]
    const ohm = scatteringOhmAt(network, conductanceS, e)
    writeScatter(book, e, ohm, scatter)
    shiftOhm += share * scatter.meanOhm[0]
    followedOhm += share / conductanceS[e]
    if (network.isEarthPath[e] === 0) byKind[network.kind[e]] += share * ohm
  }
  return { shiftOhm, followedOhm }
}

/** The entries of a row, by ascending joint. */
function entriesThatMatter(
  book: PairBook,
  { count, edge, squared }: EdgeSquares,
  leastOhm: number,
): Pick<PairRow, 'edge' | 'squared' | 'varianceOhm2'> {
  const { network, source, loopS, dense } = book
  const kept: number[] = []
  for (let k = 0; k < count; k++) {
    if (squared[k] < leastOhm * loopS[edge[k]]) continue
    dense[edge[k]] = squared[k]
    kept.push(edge[k])
  }
  const ascending = Int32Array.from(kept).sort()
  const scatter = { meanOhm: new Float64Array(1), varianceOhm2: new Float64Array(1) }
  const keptSquared = new Float64Array(ascending.length)
  const varianceOhm2 = new Float64Array(ascending.length)
  for (let k = 0; k < ascending.length; k++) {
    const e = ascending[k]
    keptSquared[k] = dense[e]
    dense[e] = 0
    writeScatter(book, e, scatteringOhmAt(network, source.conductanceS, e), scatter)
    varianceOhm2[k] = scatter.varianceOhm2[0]
  }
  return { edge: ascending, squared: keptSquared, varianceOhm2 }
}

/** `dense` has the shares of the one pair by joint; the other brings the list of its own. */
function scatterShared(dense: Float64Array, { edge, squared, varianceOhm2 }: PairRow): number {
  let sum = 0
  for (let k = 0; k < edge.length; k++) {
    const share = dense[edge[k]]
    if (share !== 0) sum += varianceOhm2[k] * (share * squared[k])
  }
  return sum
}

function levelShared(one: PairRow, other: PairRow): number {
  let sum = 0
  for (let kind = 0; kind < one.byKind.length; kind++) sum += one.byKind[kind] * other.byKind[kind]
  return sum
}
