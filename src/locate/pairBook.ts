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
  /** Of the joints that some pair's current reached; `isKnown` says of which. */
  readonly scatter: JointScatter
  readonly isKnown: Uint8Array
  readonly quadrature: ScatterQuadrature
  readonly rows: Map<string, PairRow>
  readonly inOrder: PairRow[]
  /** Entries of all rows, to bound what is kept. */
  entries: number
}

/** A book without pairs. O(nodes + joints), of which most is the bounds on what passes through each part. */
export function* openPairBook({
  network,
  solver: { factor, adjacency },
  conductanceS,
  loopS,
}: PreparedNetwork): Generator<number, PairBook> {
  const through = yield* throughOf(factor, adjacency, conductanceS, loopS)
  const { isBridge } = network.electrical.blocks
  const jointCount = conductanceS.length
  return {
    network,
    source: { factor, adjacency, conductanceS, isBridge, through },
    loopS,
    scatter: { meanOhm: new Float64Array(jointCount), varianceOhm2: new Float64Array(jointCount) },
    isKnown: new Uint8Array(jointCount),
    quadrature: new Map(),
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

/** Arrays for the work on a pair, of which one set serves all books of a network. */
export interface PairWork {
  readonly squares: EdgeSquares
  /** Squared shares by joint; all zero between two pairs. */
  readonly dense: Float64Array
}

export function emptyPairWork({ edgeCount }: Network): PairWork {
  return { squares: emptyEdgeSquares(), dense: new Float64Array(edgeCount) }
}

const keyOf = (a: number, b: number) => (a < b ? `${a} ${b}` : `${b} ${a}`)

/** The rows of these pairs, in their order; those that are not in the book yet are solved and entered. */
export function* rowsOfPairs(
  book: PairBook,
  pairs: readonly { readonly a: number; readonly b: number }[],
  work: PairWork = emptyPairWork(book.network),
): Generator<number, readonly PairRow[]> {
  const rows: PairRow[] = []
  for (const { a, b } of pairs) {
    const key = keyOf(a, b)
    let row = book.rows.get(key)
    if (!row) {
      row = solvePair(book, Math.min(a, b), Math.max(a, b), work)
      book.rows.set(key, row)
      book.inOrder.push(row)
      book.entries += row.edge.length
      yield (rows.length + 1) / pairs.length
    }
    rows.push(row)
  }
  return rows
}

export function covarianceOf(one: PairRow, other: PairRow): number {
  return one.number > other.number ? one.covariance[other.number] : other.covariance[one.number]
}

/**
 * One solve where the pair's current goes: R, squared currents, mean R + Σ i² E s; then the covariance with each
 * earlier pair q: Σ i_p² i_q² Var s over joints + Σ_kind (level sd)² (Σ i_p² r)(Σ i_q² r), earth paths without a
 * level of their own. The ohms of the pair that lie where its current was not followed, R − Σ i² r, are taken to
 * scatter as the others do on average. O(what the current reaches + entries of all rows).
 */
function solvePair(book: PairBook, a: number, b: number, work: PairWork): PairRow {
  const { network, source, inOrder } = book
  const number = inOrder.length
  const byKind = new Float64Array(network.kinds.length)
  const covariance = new Float64Array(number + 1)
  const ohm = pairResistance(source.factor, a, b)
  if (a === b || ohm === Infinity) {
    return { number, meanOhm: ohm, edge: new Int32Array(0), squared: new Float64Array(0), byKind, covariance }
  }
  const leastOhm = leastOhmPerJoint * network.edgeCount
  const reached = currentsOfPair(source, a, b, leastOhm, work.squares)
  const { shiftOhm, followedOhm } = sumScatter(book, reached, byKind)
  const whole = ohm / followedOhm
  for (let kind = 0; kind < byKind.length; kind++) byKind[kind] *= whole * levelLnSd(network.kinds[kind].id)
  const row: PairRow = {
    number,
    meanOhm: ohm + shiftOhm * whole,
    ...entriesThatMatter(book.loopS, reached, leastOhm, work.dense),
    byKind,
    covariance,
  }
  for (const other of [...inOrder, row])
    covariance[other.number] = scatterShared(work.dense, other, book.scatter) + levelShared(row, other)
  for (const e of row.edge) work.dense[e] = 0
  return row
}

/** Σ i² E s and Σ i² r, and into `byKind` Σ i² · scattering ohms. */
function sumScatter(book: PairBook, { count, edge, squared }: EdgeSquares, byKind: Float64Array) {
  const { network, source, loopS, scatter, isKnown, quadrature } = book
  const { conductanceS } = source
  let shiftOhm = 0
  let followedOhm = 0
  for (let k = 0; k < count; k++) {
    const e = edge[k]
    const share = squared[k]
    const ohm = scatteringOhmAt(network, conductanceS, e)
    if (isKnown[e] === 0) {
      enterScatter(quadrature, ohm, network.lnSpread[e], loopS[e], scatter, e)
      isKnown[e] = 1
    }
    shiftOhm += share * scatter.meanOhm[e]
    followedOhm += share / conductanceS[e]
    if (network.isEarthPath[e] === 0) byKind[network.kind[e]] += share * ohm
  }
  return { shiftOhm, followedOhm }
}

/** The entries of a row, by ascending joint, left in `dense` as well. */
function entriesThatMatter(
  loopS: Float64Array,
  { count, edge, squared }: EdgeSquares,
  leastOhm: number,
  dense: Float64Array,
): Pick<PairRow, 'edge' | 'squared'> {
  let kept = 0
  for (let k = 0; k < count; k++) if (squared[k] >= leastOhm * loopS[edge[k]]) kept++
  const keptEdge = new Int32Array(kept)
  for (let k = 0, at = 0; k < count; k++) {
    if (squared[k] < leastOhm * loopS[edge[k]]) continue
    dense[edge[k]] = squared[k]
    keptEdge[at++] = edge[k]
  }
  keptEdge.sort()
  return { edge: keptEdge, squared: Float64Array.from(keptEdge, (e) => dense[e]) }
}

/** `dense` has the shares of the one pair by joint; the other brings the list of its own. */
function scatterShared(
  dense: Float64Array,
  { edge, squared }: PairRow,
  { varianceOhm2 }: JointScatter,
): number {
  let sum = 0
  for (let k = 0; k < edge.length; k++) {
    const e = edge[k]
    const share = dense[e]
    if (share !== 0) sum += varianceOhm2[e] * (share * squared[k])
  }
  return sum
}

function levelShared(one: PairRow, other: PairRow): number {
  let sum = 0
  for (let kind = 0; kind < one.byKind.length; kind++) sum += one.byKind[kind] * other.byKind[kind]
  return sum
}
