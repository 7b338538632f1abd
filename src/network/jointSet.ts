import { assert } from '../base/assert.ts'
import { bridgeCurrent } from './currents.ts'
import type { CutLabels, CutsWithin } from './cutLabels.ts'
import { cutsWithin, sideOfCut } from './cutLabels.ts'
import type { Graph } from './graph.ts'
import { SET_PIVOT_FLOOR } from './tolerances.ts'

/**
 * What a set F of K joints does together. With i the currents in its members per ampere through a pair,
 * S_kl = b_kᵀ X b_l the voltage that an ampere across member l leaves across member k, and Δ_k the ohms
 * that member k gains (∞: opens),
 *
 *   R(F) = R + iᵀ (D + Q)⁻¹ i,   D = diag(1/Δ),   Q = G − G S G,   Q_kk = g_k (1 − h_k)
 *
 * (Woodbury 1950, written with 1/Δ instead of the change of conductance, so that a raised and an open
 * joint are one case and D + Q is positive semidefinite). x = (D + Q)⁻¹ i is the voltage that each member
 * gains: its current becomes x_k/Δ_k.
 *
 * Q is singular exactly when F contains a cut: for the cut that parts the nodes with s(v) = 1 from those
 * with s(v) = 0, the vector z_k = s(from_k) − s(to_k) has Q z = 0, and zᵀ i = s(a) − s(b). A small pivot
 * cannot be told from rounding, so the cuts come from labels (`cutLabels.ts`) and the null vectors
 * are split off before any number is computed.
 */
export interface JointSet {
  readonly graph: Graph
  readonly labels: CutLabels
  /** The K distinct edges. */
  readonly members: Int32Array
  readonly conductanceS: Float64Array
  readonly isBridge: Uint8Array
  /** Q, K × K. */
  readonly qS: Float64Array
  /** Potentials for an ampere in at `from` and out at `to` of each member. */
  readonly potentialV: readonly Float64Array[]
}

/**
 * The part of the kernel that does not depend on what the members do.
 *
 * `conductanceS` and `slack` (1 − h_e, 0 for a bridge) are of all edges, `labels` of the same edges as
 * the solver's network, `potentialV[k]` of member k: one solve each, which the caller keeps for the next
 * set that has the joint. O(K²).
 */
export function jointSetKernel(
  graph: Graph,
  labels: CutLabels,
  conductanceS: Float64Array,
  slack: Float64Array,
  members: Int32Array,
  potentialV: readonly Float64Array[],
): JointSet {
  const K = members.length
  assert(potentialV.length === K, 'a set of joints needs the potentials of each member')
  const g = new Float64Array(K)
  const isBridge = new Uint8Array(K)
  const qS = new Float64Array(K * K)
  for (let k = 0; k < K; k++) {
    const e = members[k]
    g[k] = conductanceS[e]
    isBridge[k] = slack[e] === 0 ? 1 : 0
    qS[k * K + k] = g[k] * slack[e]
    const u = graph.from[e]
    const v = graph.to[e]
    for (let l = 0; l < k; l++) {
      assert(members[l] !== e, `joint ${e} is twice in the set`)
      const x = potentialV[k]
      const y = potentialV[l]
      const f = members[l]
      const sOhm = (y[u] - y[v] + (x[graph.from[f]] - x[graph.to[f]])) / 2
      qS[k * K + l] = qS[l * K + k] = -g[k] * g[l] * sOhm
    }
  }
  return { graph, labels, members, conductanceS: g, isBridge, qS, potentialV }
}

/**
 * Currents in the members per ampere through the pair a, b: i_k = g_k (φ_k(a) − φ_k(b)), by reciprocity.
 * The pair must lie on one island; between two there is no ampere.
 */
export function memberCurrents(set: JointSet, a: number, b: number, out: Float64Array): Float64Array {
  const { conductanceS, isBridge, potentialV } = set
  for (let k = 0; k < conductanceS.length; k++) {
    const i = conductanceS[k] * (potentialV[k][a] - potentialV[k][b])
    out[k] = isBridge[k] === 1 ? bridgeCurrent(i) : i
  }
  return out
}

/**
 * A set with given states, ready for any number of pairs. `active` are the positions in the set that
 * change at all, the largest gain first; of these `kept` contain no cut. `cuts` refers to positions in `active`;
 * `raised` are the cuts of which no member is enough to part anything because one is only raised, and
 * `open` those of open members alone. `signs[j * A + k]` is z_k of raised cut j.
 * `factor` is the Cholesky factor of the matrix in the unknowns (raised cuts, kept members).
 * `pivotShare` is the smallest part of a diagonal entry that survived elimination: about 4e-15/pivotShare
 * is lost to rounding, so below `SET_PIVOT_TRUST` rebuild the network instead.
 */
export interface SettledSet {
  readonly set: JointSet
  readonly edges: Int32Array
  readonly active: Int32Array
  readonly perOhm: Float64Array
  readonly cuts: CutsWithin
  readonly open: readonly number[]
  readonly raised: readonly number[]
  readonly signs: Int8Array
  readonly kept: readonly number[]
  readonly factor: Float64Array
  readonly pivotShare: number
}

/**
 * Gives each member the ohms it gains: Infinity opens it, 0 leaves it as it is.
 *
 * A cut of open members: the last of them carries nothing whether it is closed or open, for every pair
 * that the cut does not part, so it is left closed; a pair that it parts reads ∞. A cut with a
 * raised member: x = z α + (x without the last member), where zᵀ(D + Q)z = Σ z_k²/Δ_k knows nothing of Q.
 * What remains of Q has no cut and is positive definite. O(K³).
 */
export function settleSet(set: JointSet, addedOhm: ArrayLike<number>): SettledSet {
  const active = activeMembers(addedOhm)
  const A = active.length
  const edges = new Int32Array(A)
  const perOhm = new Float64Array(A)
  for (let k = 0; k < A; k++) {
    edges[k] = set.members[active[k]]
    perOhm[k] = 1 / addedOhm[active[k]]
  }
  const cuts = cutsWithin(set.labels, edges)
  const open: number[] = []
  const raised: number[] = []
  for (let j = 0; j < cuts.count; j++) (perOhm[cuts.last[j]] === 0 ? open : raised).push(j)
  const kept: number[] = []
  for (let k = 0, j = 0; k < A; k++) {
    if (j < cuts.count && cuts.last[j] === k) j++
    else kept.push(k)
  }
  const signs = signsOf(set, edges, cuts, raised)
  const factor = fillMatrix(set, active, perOhm, signs, kept, raised.length)
  const pivotShare = choleskyInPlace(factor, raised.length + kept.length)
  return { set, edges, active, perOhm, cuts, open, raised, signs, kept, factor, pivotShare }
}

/** z_k of the raised cuts: +1, −1 or 0 as the member leads out of side 1, into it, or stays on a side. */
function signsOf(set: JointSet, edges: Int32Array, cuts: CutsWithin, raised: readonly number[]): Int8Array {
  const { graph, labels } = set
  const A = edges.length
  const signs = new Int8Array(raised.length * A)
  for (let row = 0; row < raised.length; row++) {
    const j = raised[row]
    for (let k = 0; k < A; k++) {
      if (cuts.isIn[j * A + k] === 0) continue
      const e = edges[k]
      signs[row * A + k] =
        sideOfCut(labels, edges, cuts, j, graph.from[e]) - sideOfCut(labels, edges, cuts, j, graph.to[e])
    }
  }
  return signs
}

/**
 * The largest gain first. Then the member that is last in its cut is the one with the largest 1/Δ, and eliminating
 * the cut leaves 1/Δ_k − (1/Δ_k)²/(1/Δ_k + 1/Δ_last) ≥ 1/(2Δ_k): nothing cancels.
 */
function activeMembers(addedOhm: ArrayLike<number>): Int32Array {
  const active: number[] = []
  for (let k = 0; k < addedOhm.length; k++) {
    assert(addedOhm[k] >= 0, `a joint cannot gain ${addedOhm[k]} ohm`)
    if (1 / addedOhm[k] < Infinity) active.push(k)
  }
  active.sort((k, l) => (addedOhm[k] === addedOhm[l] ? k - l : addedOhm[k] > addedOhm[l] ? -1 : 1))
  return Int32Array.from(active)
}

/**
 * Lower triangle, row by row, in the unknowns (α, x_kept):
 *
 *   ⎡ Zᵀ D Z   Zᵀ D   ⎤
 *   ⎣  D Z    D + Q   ⎦
 */
function fillMatrix(
  set: JointSet,
  active: Int32Array,
  perOhm: Float64Array,
  signs: Int8Array,
  kept: readonly number[],
  cutCount: number,
): Float64Array {
  const A = active.length
  const K = set.members.length
  const n = cutCount + kept.length
  const m = new Float64Array(n * n)
  for (let j = 0; j < cutCount; j++) {
    for (let l = 0; l <= j; l++) {
      let sum = 0
      for (let k = 0; k < A; k++) sum += signs[j * A + k] * signs[l * A + k] * perOhm[k]
      m[j * n + l] = sum
    }
  }
  for (let p = 0; p < kept.length; p++) {
    const row = (cutCount + p) * n
    const k = kept[p]
    for (let j = 0; j < cutCount; j++) m[row + j] = signs[j * A + k] * perOhm[k]
    for (let q = 0; q <= p; q++) m[row + cutCount + q] = set.qS[active[k] * K + active[kept[q]]]
    m[row + cutCount + p] += perOhm[k]
  }
  return m
}

/** M = C Cᵀ in the lower triangle; returns the smallest pivot in parts of its diagonal entry. */
function choleskyInPlace(m: Float64Array, n: number): number {
  let smallest = 1
  for (let j = 0; j < n; j++) {
    const diagonal = m[j * n + j]
    let pivot = diagonal
    for (let k = 0; k < j; k++) pivot -= m[j * n + k] * m[j * n + k]
    const floor = diagonal * SET_PIVOT_FLOOR
    if (!(pivot > floor)) pivot = floor
    assert(pivot > 0, 'a set of joints without a cut has a singular kernel')
    smallest = Math.min(smallest, pivot / diagonal)
    const root = Math.sqrt(pivot)
    m[j * n + j] = root
    for (let i = j + 1; i < n; i++) {
      let sum = m[i * n + j]
      for (let k = 0; k < j; k++) sum -= m[i * n + k] * m[j * n + k]
      m[i * n + j] = sum / root
    }
  }
  return smallest
}

/** Whether the open members part the two nodes from each other. O(K × cuts). */
export function isParted(settled: SettledSet, a: number, b: number): boolean {
  const { set, edges, cuts, open } = settled
  for (const j of open) {
    if (sideOfCut(set.labels, edges, cuts, j, a) !== sideOfCut(set.labels, edges, cuts, j, b)) return true
  }
  return false
}

/**
 * Solves C y = (zᵀi, i_kept) into `y` (room for one number per member) and returns Σ y², the rise.
 * Meant for pairs that are not parted.
 */
export function forwardSet(
  settled: SettledSet,
  a: number,
  b: number,
  memberCurrentA: Float64Array,
  y: Float64Array,
): number {
  const { set, edges, cuts, raised, kept, active, factor } = settled
  const n = raised.length + kept.length
  let rise = 0
  for (let r = 0; r < n; r++) {
    let sum =
      r < raised.length
        ? sideOfCut(set.labels, edges, cuts, raised[r], a) - sideOfCut(set.labels, edges, cuts, raised[r], b)
        : memberCurrentA[active[kept[r - raised.length]]]
    for (let k = 0; k < r; k++) sum -= factor[r * n + k] * y[k]
    y[r] = sum / factor[r * n + r]
    rise += y[r] * y[r]
  }
  return rise
}

/**
 * Resistance of the pair a, b with the set as settled: `baseOhm` with every joint as built, plus the rise.
 * Infinity when the open members part the pair, or when it was parted before (then nothing else is read).
 * `memberCurrentA` are the currents in all K members as built (`memberCurrents`, or picked from the
 * currents of the reading);
 * `scratch` has room for K numbers. O(K²).
 */
export function resistanceWithSet(
  settled: SettledSet,
  a: number,
  b: number,
  baseOhm: number,
  memberCurrentA: Float64Array,
  scratch: Float64Array,
): number {
  if (baseOhm === Infinity || isParted(settled, a, b)) return Infinity
  return baseOhm + forwardSet(settled, a, b, memberCurrentA, scratch)
}
