import { rowsFromPotentials } from '../network/jointSweep.ts'
import { pairResistance } from '../network/pairResistance.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { pairPotentials } from '../network/solve.ts'
import { levelLnSd } from '../reading/assumptions.ts'
import { scatterOfJoints, type JointScatter } from '../reading/jointScatter.ts'
import { scatteringOhm } from '../reading/pairPrediction.ts'

/** Shares of current below this (squared) move no reading by as much as a micro-ohm. */
const leastSquared = 1e-9

/** What one pair of nodes has to do with every joint and with the pairs before it in its book. */
export interface PairRow {
  readonly number: number
  /** Mean resistance over the scatter of the joints, in ohm; Infinity where nothing joins the two. */
  readonly meanOhm: number
  /** Joints with a share of the pair's current, ascending, and the share squared. */
  readonly edge: Int32Array
  readonly squared: Float64Array
  /** Per joint kind: its level's spread · Σ squared · scattering ohms, what the pair owes to that level. */
  readonly byKind: Float64Array
  /** Covariance with every pair up to itself by number, in ohm². */
  readonly covariance: Float64Array
}

/**
 * The pairs of one network that readings were taken between. A row depends on its own pair alone, a covariance on
 * its two pairs alone, and neither on what else is in the book or when it came in: sums go over the joints in
 * ascending order. So that what was worked out for earlier readings serves the next ones, bit for bit.
 */
export interface PairBook {
  readonly prepared: PreparedNetwork
  readonly scatters: Float64Array
  readonly scatter: JointScatter
  readonly rows: Map<string, PairRow>
  readonly inOrder: PairRow[]
  /** Entries of all rows, to bound what is kept. */
  entries: number
}

export function openPairBook(prepared: PreparedNetwork): PairBook {
  const scatters = scatteringOhm(prepared)
  const scatter = scatterOfJoints(scatters, prepared.network.lnSpread, prepared.loopS)
  return { prepared, scatters, scatter, rows: new Map(), inOrder: [], entries: 0 }
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
  const work = new Float64Array(book.prepared.conductanceS.length)
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
 * One solve and one pass over the joints: R, squared currents, mean R + Σ i² E s; then the covariance with each
 * earlier pair q: Σ i_p² i_q² Var s over joints + Σ_kind (level sd)² (Σ i_p² r)(Σ i_q² r), earth paths without a
 * level of their own. O(factor + joints + entries of all rows).
 */
function solvePair(book: PairBook, a: number, b: number, work: Float64Array): PairRow {
  const { prepared, scatters, scatter, inOrder } = book
  const { network, solver, conductanceS } = prepared
  const number = inOrder.length
  const byKind = new Float64Array(network.kinds.length)
  const covariance = new Float64Array(number + 1)
  const ohm = pairResistance(solver.factor, a, b)
  if (a === b || ohm === Infinity) {
    return { number, meanOhm: ohm, edge: new Int32Array(0), squared: new Float64Array(0), byKind, covariance }
  }
  const potentialV = pairPotentials(solver.factor, a, b, new Float64Array(network.graph.nodeCount))
  const { isBridge } = network.electrical.blocks
  const fill = rowsFromPotentials(network.graph, conductanceS, isBridge, [potentialV])
  fill({ first: 0, count: conductanceS.length, readingCount: 1, squared: work })
  let count = 0
  for (let e = 0; e < work.length; e++) if (work[e] >= leastSquared) count++
  const edge = new Int32Array(count)
  const squared = new Float64Array(count)
  let meanOhm = ohm
  for (let e = 0, at = 0; e < work.length; e++) {
    const share = work[e]
    if (share < leastSquared) continue
    edge[at] = e
    squared[at++] = share
    meanOhm += share * scatter.meanOhm[e]
    if (network.isEarthPath[e] === 0) byKind[network.kind[e]] += share * scatters[e]
  }
  for (let kind = 0; kind < byKind.length; kind++) byKind[kind] *= levelLnSd(network.kinds[kind].id)
  const row: PairRow = { number, meanOhm, edge, squared, byKind, covariance }
  for (const other of [...inOrder, row])
    covariance[other.number] = scatterShared(work, other, scatter) + levelShared(row, other)
  return row
}

/** `squared` has the shares of the one pair by joint; the other brings the list of its own. */
function scatterShared(squared: Float64Array, other: PairRow, { varianceOhm2 }: JointScatter): number {
  let sum = 0
  const { edge } = other
  for (let k = 0; k < edge.length; k++) {
    const share = squared[edge[k]]
    if (share >= leastSquared) sum += varianceOhm2[edge[k]] * (share * other.squared[k])
  }
  return sum
}

function levelShared(one: PairRow, other: PairRow): number {
  let sum = 0
  for (let kind = 0; kind < one.byKind.length; kind++) sum += one.byKind[kind] * other.byKind[kind]
  return sum
}
