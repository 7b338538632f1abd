import type { Graph } from '../../src/network/graph.ts'

/** A conductance in units of 2^−1100 S: every double is a whole number of them. */
function whole(conductanceS: number): bigint {
  let [mantissa, exponent] = [conductanceS, 0]
  while (!Number.isInteger(mantissa)) {
    mantissa *= 2
    exponent++
  }
  return BigInt(mantissa) << BigInt(1100 - exponent)
}

/** Determinant by fraction-free elimination (Bareiss 1968). */
function determinant(matrix: bigint[][]): bigint {
  const a = matrix.map((row) => [...row])
  let sign = 1n
  let before = 1n
  for (let k = 0; k < a.length; k++) {
    const p = a.findIndex((row, i) => i >= k && row[k] !== 0n)
    if (p < 0) return 0n
    if (p !== k) {
      ;[a[p], a[k]] = [a[k], a[p]]
      sign = -sign
    }
    for (let i = k + 1; i < a.length; i++) {
      for (let j = k + 1; j < a.length; j++) {
        a[i][j] = (a[i][j] * a[k][k] - a[i][k] * a[k][j]) / before
      }
    }
    before = a[k][k]
  }
  return sign * before
}

function quotient(numerator: bigint, denominator: bigint): number {
  if (denominator === 0n) return Infinity
  const shift = Math.max(0, 120 - numerator.toString(2).length + denominator.toString(2).length)
  const scaled = (numerator << BigInt(shift)) / denominator
  return Number(scaled) * 2 ** -shift
}

/**
 * Resistance between two nodes of a connected graph in whole numbers, rounded once at the end: det L without
 * a and b / det L without a (Kirchhoff 1847). Edges with `without` are left out. Some ten nodes.
 */
export function exactResistance(
  graph: Graph,
  conductanceS: Float64Array,
  a: number,
  b: number,
  without = -1,
): number {
  const n = graph.nodeCount
  const l = Array.from({ length: n }, () => new Array<bigint>(n).fill(0n))
  for (let e = 0; e < graph.from.length; e++) {
    if (e === without) continue
    const [u, v, g] = [graph.from[e], graph.to[e], whole(conductanceS[e])]
    l[u][u] += g
    l[v][v] += g
    l[u][v] -= g
    l[v][u] -= g
  }
  const minor = (gone: number[]) =>
    determinant(l.filter((_, i) => !gone.includes(i)).map((row) => row.filter((_, j) => !gone.includes(j))))
  return quotient(minor([a, b]) << 1100n, minor([a]))
}
