import { forwardSet, isParted, type SettledSet } from '../../network/jointSet.ts'

/**
 * Voltages x that the members gain per ampere through the pair a, b, into `gainedV` by place in the set, and the
 * rise of the pair's resistance, iᵀx. `solved` has room for a number per member. For a pair that the set parts the
 * rise is Infinity and the voltages are 0; for a cut of open members that does not part the pair, the last of them
 * counts as closed and gains none. O(members²).
 */
export function gainedVoltages(
  settled: SettledSet,
  a: number,
  b: number,
  memberCurrentA: Float64Array,
  solved: Float64Array,
  gainedV: Float64Array,
): number {
  gainedV.fill(0)
  if (isParted(settled, a, b)) return Infinity
  const { active, raised, signs, kept, factor } = settled
  const n = raised.length + kept.length
  const rise = forwardSet(settled, a, b, memberCurrentA, solved)
  for (let r = n - 1; r >= 0; r--) {
    for (let k = r + 1; k < n; k++) solved[r] -= factor[k * n + r] * solved[k]
    solved[r] /= factor[r * n + r]
  }
  for (let p = 0; p < kept.length; p++) gainedV[active[kept[p]]] = solved[raised.length + p]
  for (let j = 0; j < raised.length; j++) {
    for (let k = 0; k < active.length; k++) gainedV[active[k]] += signs[j * active.length + k] * solved[j]
  }
  return rise
}
