import type { SettledSet } from './jointSet.ts'
import { forwardSet, isParted } from './jointSet.ts'

/**
 * Where the ampere of a pair goes once a set of joints has changed. `memberA[k]` is the current in member k
 * of the set, and `sourceA[k]` the current that, sent from end to end of member k as built, changes
 * every other current by as much as the set does.
 */
export interface SetCurrents {
  readonly riseOhm: number
  readonly memberA: Float64Array
  readonly sourceA: Float64Array
}

/**
 * With x = (D + Q)⁻¹ i the voltages that the members gain: current x_k/Δ_k in a member (none in an open
 * one) and sources g_k x_k. A cut shifts all potentials of one side by the same voltage, which drives no
 * current in any joint outside the set; so the sources are those of the kept members alone.
 * Undefined for a pair that the set parts: no ampere can be sent through it. O(K²).
 */
export function solveSetCurrents(
  settled: SettledSet,
  a: number,
  b: number,
  memberCurrentA: Float64Array,
): SetCurrents | undefined {
  if (isParted(settled, a, b)) return undefined
  const { set, active, perOhm, raised, signs, kept, factor } = settled
  const A = active.length
  const n = raised.length + kept.length
  const x = new Float64Array(n)
  const riseOhm = forwardSet(settled, a, b, memberCurrentA, x)
  for (let r = n - 1; r >= 0; r--) {
    for (let k = r + 1; k < n; k++) x[r] -= factor[k * n + r] * x[k]
    x[r] /= factor[r * n + r]
  }

  const gainedV = new Float64Array(A)
  const sourceA = new Float64Array(set.members.length)
  for (let p = 0; p < kept.length; p++) {
    const xV = x[raised.length + p]
    gainedV[kept[p]] = xV
    sourceA[active[kept[p]]] = set.conductanceS[active[kept[p]]] * xV
  }
  for (let j = 0; j < raised.length; j++) {
    for (let k = 0; k < A; k++) gainedV[k] += signs[j * A + k] * x[j]
  }
  const memberA = memberCurrentA.slice(0, set.members.length)
  for (let k = 0; k < A; k++) memberA[active[k]] = perOhm[k] === 0 ? 0 : gainedV[k] * perOhm[k]
  for (let k = 0; k < set.members.length; k++) {
    if (!active.includes(k))
      memberA[k] += currentFromSources(settled, sourceA, set.members[k], set.conductanceS[k])
  }
  return { riseOhm, memberA, sourceA }
}

/** Change of the current in joint `edge` (no active member) of conductance g: g Σ_k s_k (φ_k(from) − φ_k(to)). */
export function currentFromSources(
  settled: SettledSet,
  sourceA: Float64Array,
  edge: number,
  conductanceS: number,
): number {
  const { graph, potentialV } = settled.set
  const u = graph.from[edge]
  const v = graph.to[edge]
  let voltage = 0
  for (let k = 0; k < sourceA.length; k++) {
    if (sourceA[k] !== 0) voltage += sourceA[k] * (potentialV[k][u] - potentialV[k][v])
  }
  return conductanceS * voltage
}

/**
 * Currents in all joints under the hypothesis, from those as built (`baseA`), positive from → to:
 * i'_f = i_f + g_f Σ_k s_k (φ_k(from_f) − φ_k(to_f)), and the solved current in each member.
 * O(edges × K). `out` may be `baseA`.
 */
export function currentsWithSet(
  settled: SettledSet,
  solved: SetCurrents,
  conductanceS: Float64Array,
  baseA: Float64Array,
  out: Float64Array,
): Float64Array {
  const { graph, members, potentialV } = settled.set
  const { from, to } = graph
  if (out !== baseA) out.set(baseA)
  for (let k = 0; k < members.length; k++) {
    const source = solved.sourceA[k]
    if (source === 0) continue
    const phi = potentialV[k]
    for (let f = 0; f < from.length; f++) out[f] += conductanceS[f] * source * (phi[from[f]] - phi[to[f]])
  }
  for (let k = 0; k < members.length; k++) out[members[k]] = solved.memberA[k]
  return out
}
