import { assert } from '../base/assert.ts'
import type { Factor } from './factor.ts'

/**
 * Potentials from currents. In: `rhs[v]` amperes into node v; the reference of each island takes what the
 * island's currents lack to zero, whatever stands in its own place. Out, in the same array: volts, 0 at each
 * reference.
 *
 *   forward   y_i += share_ij y_j ,  j ascending          (the current moves on to later nodes)
 *   backward  x_j = y_j / pivotS_j + Σ_i share_ij x_i ,  j descending
 *
 * O(entries of the factor), no allocation. Throws when a current is not finite.
 */
export function solveInPlace(factor: Factor, rhs: Float64Array): Float64Array {
  const { pattern, share, scratch } = factor
  const { nodeCount, order, start, row } = pattern
  assert(rhs.length === nodeCount, 'a current is needed for every node')
  for (let j = 0; j < nodeCount; j++) scratch[j] = rhs[order[j]]
  for (let j = 0; j < nodeCount; j++) {
    const y = scratch[j]
    if (y === 0) continue
    if (!Number.isFinite(y)) {
      scratch.fill(0)
      assert(false, `the current into node ${order[j]}, or what reaches it, is ${y} A`)
    }
    const end = start[j + 1]
    for (let s = start[j]; s < end; s++) scratch[row[s]] += share[s] * y
  }
  substituteBack(factor, 0, nodeCount - 1)
  for (let j = 0; j < nodeCount; j++) rhs[order[j]] = scratch[j]
  scratch.fill(0)
  return rhs
}

/**
 * Potentials when 1 A enters at node `a` and leaves at node `b`, into `out` (volts per ampere: ohms), 0 at
 * the reference of their island and everywhere outside of it. The forward part follows the two paths to the
 * root of the elimination tree, the backward part visits only the island. Throws when no path joins a and b.
 */
export function pairPotentials(factor: Factor, a: number, b: number, out: Float64Array): Float64Array {
  const { pattern, scratch } = factor
  const { order, position, root, islandStart } = pattern
  const last = root[position[a]]
  assert(root[position[b]] === last, `no path joins nodes ${a} and ${b}`)
  out.fill(0)
  if (a === b) return out
  const first = islandStart[last]
  sendAlongPaths(factor, a, b)
  substituteBack(factor, first, last)
  for (let j = first; j <= last; j++) out[order[j]] = scratch[j]
  scratch.fill(0, first, last + 1)
  return out
}

/** Forward substitution of +1 A at a and −1 A at b, which reaches only what lies above them in the tree. */
export function sendAlongPaths({ pattern, share, scratch }: Factor, a: number, b: number): void {
  const { position, parent, start, row } = pattern
  let p = position[a]
  let q = position[b]
  scratch[p] = 1
  scratch[q] = -1
  while (p !== q || parent[p] >= 0) {
    let j = p
    if (p === q) p = q = parent[p]
    else if (p < q) p = parent[p]
    else {
      j = q
      q = parent[q]
    }
    const y = scratch[j]
    for (let s = start[j]; s < start[j + 1]; s++) scratch[row[s]] += share[s] * y
  }
}

/** x_j = y_j / pivotS_j + Σ share_ij x_i for j = last … first, in the scratch; the roots get 0. */
function substituteBack({ pattern, pivotS, share, scratch }: Factor, first: number, last: number): void {
  const { start, row } = pattern
  for (let j = last; j >= first; j--) {
    const pivot = pivotS[j]
    if (pivot === 0) {
      scratch[j] = 0
      continue
    }
    let x = scratch[j] / pivot
    const end = start[j + 1]
    for (let s = start[j]; s < end; s++) x += share[s] * scratch[row[s]]
    scratch[j] = x
  }
}
