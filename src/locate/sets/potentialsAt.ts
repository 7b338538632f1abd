import { assert } from '../../base/assert.ts'
import type { FactorPattern } from '../../network/analyse.ts'
import type { Factor } from '../../network/factor.ts'
import { sendAlongPaths } from '../../network/solve.ts'

/** Positions on the paths from some nodes to the roots of the elimination tree, descending. O(paths). */
export function reachOf({ position, parent }: FactorPattern, nodes: ArrayLike<number>): Int32Array {
  const met = new Set<number>()
  for (let k = 0; k < nodes.length; k++) {
    for (let j = position[nodes[k]]; j >= 0 && !met.has(j); j = parent[j]) met.add(j)
  }
  return Int32Array.from(met).sort().reverse()
}

/**
 * Potentials of some nodes when 1 A enters at node `a` and leaves at node `b`, both among them; the same numbers as
 * `pairPotentials`. A potential depends only on those further up the tree, so nothing but the columns of `reach`,
 * the paths from these nodes to the roots, is read. O(entries of these columns).
 */
export function potentialsAt(
  factor: Factor,
  reach: Int32Array,
  nodes: Int32Array,
  a: number,
  b: number,
): Float64Array {
  const { pattern, pivotS, share, scratch } = factor
  const { position, root, start, row } = pattern
  assert(root[position[a]] === root[position[b]], `no path joins nodes ${a} and ${b}`)
  sendAlongPaths(factor, a, b)
  for (const j of reach) {
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
  const potentialV = Float64Array.from(nodes, (node) => scratch[position[node]])
  for (const j of reach) scratch[j] = 0
  return potentialV
}
