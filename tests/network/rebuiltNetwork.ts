import { CholeskyDecomposition, Matrix } from 'ml-matrix'
import type { Graph } from '../../src/network/graph.ts'

/** A network solved densely by a general-purpose library, to hold the kernels against. */
export interface RebuiltNetwork {
  readonly islandOf: number[]
  readonly islandCount: number
  resistance(a: number, b: number): number
  /** Potentials for one ampere in at a and out at b, mean zero over the island. */
  potentials(a: number, b: number): Float64Array
  currents(a: number, b: number): Float64Array
}

/**
 * Union-find for the islands; then the inverse of L + Σ_islands 11ᵀ/n · s by ml-matrix's Cholesky
 * decomposition, which acts as the pseudo-inverse on differences within an island. An edge of conductance
 * 0 does not exist.
 */
export function rebuild(graph: Graph, conductanceS: ArrayLike<number>): RebuiltNetwork {
  const n = graph.nodeCount
  const root = Array.from({ length: n }, (_, v) => v)
  const find = (v: number): number => {
    while (root[v] !== v) v = root[v] = root[root[v]]
    return v
  }
  const l = Matrix.zeros(n, n)
  const add = (r: number, c: number, value: number) => l.set(r, c, l.get(r, c) + value)
  let total = 0
  for (let e = 0; e < graph.from.length; e++) {
    const g = conductanceS[e]
    if (g === 0) continue
    const u = graph.from[e]
    const v = graph.to[e]
    root[find(u)] = find(v)
    add(u, u, g)
    add(v, v, g)
    add(u, v, -g)
    add(v, u, -g)
    total += g
  }
  const islandOf = root.map((_, v) => find(v))
  const scale = total > 0 ? total / n : 1
  for (let r = 0; r < n; r++) {
    for (let c = 0; c < n; c++) if (islandOf[r] === islandOf[c]) add(r, c, scale / n)
  }
  const inverse = new CholeskyDecomposition(l).solve(Matrix.eye(n))
  const potentials = (a: number, b: number) => {
    if (islandOf[a] !== islandOf[b]) throw new Error('no ampere goes between two islands')
    return Float64Array.from({ length: n }, (_, v) => inverse.get(v, a) - inverse.get(v, b))
  }
  return {
    islandOf,
    islandCount: new Set(islandOf).size,
    potentials,
    resistance: (a, b) => {
      if (islandOf[a] !== islandOf[b]) return Infinity
      const x = potentials(a, b)
      return x[a] - x[b]
    },
    currents: (a, b) => {
      const x = potentials(a, b)
      return Float64Array.from(graph.from, (u, e) => conductanceS[e] * (x[u] - x[graph.to[e]]))
    },
  }
}

/** Conductances with some joints raised by the given ohms (Infinity: open). */
export function changed(
  conductanceS: Float64Array,
  members: ArrayLike<number>,
  addedOhm: ArrayLike<number>,
): Float64Array {
  const g = conductanceS.slice()
  for (let k = 0; k < members.length; k++) g[members[k]] = 1 / (1 / g[members[k]] + addedOhm[k])
  return g
}
