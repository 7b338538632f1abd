import type { Graph } from '../../src/network/graph.ts'

/**
 * Plain dense reference: the Laplacian without the rows and columns of the reference nodes, inverted by
 * Gauss–Jordan with full pivoting on the diagonal. Returns Z with zero rows and columns at the references.
 * O(n³).
 */
export function denseInverse(
  graph: Graph,
  conductanceS: Float64Array,
  references: Iterable<number>,
): number[][] {
  const n = graph.nodeCount
  const a = Array.from({ length: n }, () => new Array<number>(n).fill(0))
  for (let e = 0; e < graph.from.length; e++) {
    const [u, v, g] = [graph.from[e], graph.to[e], conductanceS[e]]
    a[u][u] += g
    a[v][v] += g
    a[u][v] -= g
    a[v][u] -= g
  }
  const isOut = new Set(references)
  const left = new Set(Array.from({ length: n }, (_, v) => v).filter((v) => !isOut.has(v)))
  const kept = [...left]
  while (left.size > 0) {
    const p = [...left].reduce((best, v) => (a[v][v] > a[best][best] ? v : best))
    left.delete(p)
    const pivot = a[p][p]
    for (const j of kept) a[p][j] = j === p ? 1 / pivot : a[p][j] / pivot
    for (const i of kept) {
      if (i === p) continue
      const f = a[i][p]
      for (const j of kept) a[i][j] = j === p ? -f / pivot : a[i][j] - f * a[p][j]
    }
  }
  for (const r of isOut) for (let v = 0; v < n; v++) a[r][v] = a[v][r] = 0
  return a
}

/** R_ab = Z_aa + Z_bb − 2 Z_ab for nodes of one island. */
export function denseResistance(inverse: number[][], a: number, b: number): number {
  return inverse[a][a] + inverse[b][b] - inverse[a][b] - inverse[b][a]
}
