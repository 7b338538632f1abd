import { choleskyInPlace } from '../base/symmetric.ts'
import { mutualPerM } from './buriedPieces.ts'
import type { BuriedPieces } from './buriedPieces.ts'
import { addBranch } from './soilSketch.ts'
import type { SoilSketch } from './soilSketch.ts'

/**
 * What a piece has in common with the others, in its greatest mutual resistances: as with a cell of a grid and the next, which
 * leaves no conductance negative. At most half of what stands above that mutual resistance is common.
 */
const commonInMutuals = 2.5
const commonShare = 0.5
/** How far leaving out negative conductances may move what a piece reads; rods that all but touch go beyond it. */
const mostOut = 0.01
/** A branch of less than this share of its node's conductances is left out. */
const leastShare = 1e-9

/**
 * Few pieces with a branch for every pair. The matrix of mutual resistances, each piece's own share taken off its diagonal, is
 * inverted: its rows sum to the conductances to remote earth, its other entries are the conductances between. Conductors in
 * soil have no negative ones (Maxwell 1873, coefficients of induction); those that the mean voltage along a rod leaves, small
 * ones, count as none. Null where that would change what is read by more than 1 %. O(n³) time.
 */
export function soilMesh(pieces: BuriedPieces): SoilSketch | null {
  const n = pieces.xM.length
  const common = commonPerM(pieces)
  const siemens = inverse(common, n)
  if (!siemens || !keepsSelves(siemens, common, n)) return null
  const sketch: SoilSketch = {
    nodeCount: n,
    from: [],
    to: [],
    perM: [],
    pieceAt: Int32Array.from({ length: n }, (_, i) => i),
    pieceAtPerM: Float64Array.from({ length: n }, (_, i) => common[i * n + i]),
  }
  for (let i = 0; i < n; i++) {
    let toEarth = 0
    for (let j = 0; j < n; j++) toEarth += siemens[i * n + j]
    const least = leastShare * siemens[i * n + i]
    if (toEarth > least) addBranch(sketch, i, -1, 1 / toEarth)
    for (let j = 0; j < i; j++) {
      const between = -siemens[i * n + j]
      if (between > least) addBranch(sketch, i, j, 1 / between)
    }
  }
  return sketch
}

/** What each node reads to remote earth through positive conductances alone is what the matrix says. */
function keepsSelves(siemens: Float64Array, common: Float64Array, n: number): boolean {
  const positive = siemens.map((s, at) => (at % (n + 1) === 0 ? 0 : Math.min(0, s)))
  for (let i = 0; i < n; i++) {
    let row = 0
    let between = 0
    for (let j = 0; j < n; j++) {
      row += siemens[i * n + j]
      between -= positive[i * n + j]
    }
    positive[i * n + i] = Math.max(0, row) + between
  }
  const ohm = inverse(positive, n)
  if (!ohm) return false
  for (let at = 0; at < n * n; at += n + 1) if (Math.abs(ohm[at] / common[at] - 1) > mostOut) return false
  return true
}

function commonPerM(pieces: BuriedPieces): Float64Array {
  const n = pieces.xM.length
  const common = new Float64Array(n * n)
  for (let i = 0; i < n; i++) {
    let most = 0
    for (let j = 0; j < n; j++) {
      if (j === i) continue
      common[i * n + j] = mutualPerM(pieces, i, j)
      most = Math.max(most, common[i * n + j])
    }
    common[i * n + i] = Math.min(commonInMutuals * most, most + commonShare * (pieces.selfPerM[i] - most))
  }
  return common
}

function inverse(matrix: Float64Array, n: number): Float64Array | null {
  const factor = matrix.slice()
  if (choleskyInPlace(factor, n) >= 0) return null
  const out = new Float64Array(n * n)
  const column = new Float64Array(n)
  for (let q = 0; q < n; q++) {
    column.fill(0)
    column[q] = 1
    for (let i = 0; i < n; i++) {
      for (let k = 0; k < i; k++) column[i] -= factor[i * n + k] * column[k]
      column[i] /= factor[i * n + i]
    }
    for (let i = n - 1; i >= 0; i--) {
      for (let k = i + 1; k < n; k++) column[i] -= factor[k * n + i] * column[k]
      column[i] /= factor[i * n + i]
    }
    for (let i = 0; i < n; i++) out[i * n + q] = column[i]
  }
  return out
}
