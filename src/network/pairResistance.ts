import type { Factor } from './factor.ts'

/**
 * Resistance in ohm between nodes a and b: with 1 A in at a and out at b, and y the currents that reach each
 * position while all positions before it are eliminated,
 *
 *   R = Σ_k y_k² / pivotS_k
 *
 * y is zero except on the paths from a and b to the root of the elimination tree, so no other column is
 * touched and nothing is substituted back. 0 for a = b, Infinity when no path joins them. Time: the entries
 * of the columns on the two paths (some hundred on an array); no allocation. Source: y = L⁻¹(e_a − e_b), R =
 * yᵀD⁻¹y; sparsity of y by Gilbert 1994, "Predicting structure in sparse matrix computations".
 */
export function pairResistance(factor: Factor, a: number, b: number): number {
  const { pattern, pivotS, share, scratch } = factor
  const { position, parent, root, start, row } = pattern
  let p = position[a]
  let q = position[b]
  if (p === q) return 0
  if (root[p] !== root[q]) return Infinity
  scratch[p] = 1
  scratch[q] = -1
  let sum = 0
  for (;;) {
    let j = p
    if (p < q) p = parent[p]
    else if (p > q) {
      j = q
      q = parent[q]
    } else if (parent[p] < 0) break
    else p = q = parent[p]
    const y = scratch[j]
    scratch[j] = 0
    if (y === 0) continue
    sum += (y * y) / pivotS[j]
    const end = start[j + 1]
    for (let s = start[j]; s < end; s++) scratch[row[s]] += share[s] * y
  }
  scratch[p] = 0
  return sum
}
