import { assert } from './assert.ts'

/**
 * Cholesky factor of a small dense symmetric positive definite matrix, in place: the lower triangle of
 * `matrix` (row-major, size × size) becomes L with A = L Lᵀ. O(size³ / 3). Returns the index of the first
 * pivot that is not positive, or −1 when all are.
 */
export function choleskyInPlace(matrix: Float64Array, size: number): number {
  assert(matrix.length >= size * size, 'a matrix is smaller than its size says')
  for (let j = 0; j < size; j++) {
    let pivot = matrix[j * size + j]
    for (let k = 0; k < j; k++) pivot -= matrix[j * size + k] * matrix[j * size + k]
    if (!(pivot > 0)) return j
    const root = Math.sqrt(pivot)
    matrix[j * size + j] = root
    belowPivot(matrix, size, j, root)
  }
  return -1
}

/** The column below pivot `j` of a factor that is complete to its left. Four rows go side by side. */
function belowPivot(matrix: Float64Array, size: number, j: number, root: number): void {
  const pivotRow = matrix.subarray(j * size, j * size + j)
  let i = j + 1
  for (; i + 3 < size; i += 4) {
    const r0 = i * size
    const r1 = r0 + size
    const r2 = r1 + size
    const r3 = r2 + size
    let s0 = matrix[r0 + j]
    let s1 = matrix[r1 + j]
    let s2 = matrix[r2 + j]
    let s3 = matrix[r3 + j]
    for (let k = 0; k < j; k++) {
      const pivot = pivotRow[k]
      s0 -= matrix[r0 + k] * pivot
      s1 -= matrix[r1 + k] * pivot
      s2 -= matrix[r2 + k] * pivot
      s3 -= matrix[r3 + k] * pivot
    }
    matrix[r0 + j] = s0 / root
    matrix[r1 + j] = s1 / root
    matrix[r2 + j] = s2 / root
    matrix[r3 + j] = s3 / root
  }
  for (; i < size; i++) {
    let sum = matrix[i * size + j]
    for (let k = 0; k < j; k++) sum -= matrix[i * size + k] * pivotRow[k]
    matrix[i * size + j] = sum / root
  }
}

/** ln det A from its Cholesky factor. */
export function logDeterminant(factor: Float64Array, size: number): number {
  let sum = 0
  for (let i = 0; i < size; i++) sum += Math.log(factor[i * size + i])
  return 2 * sum
}

/** Solves L x = b in place. */
export function solveLower(factor: Float64Array, size: number, b: Float64Array): void {
  for (let i = 0; i < size; i++) {
    let sum = b[i]
    for (let k = 0; k < i; k++) sum -= factor[i * size + k] * b[k]
    b[i] = sum / factor[i * size + i]
  }
}

/** A⁻¹ (full, symmetric) from the Cholesky factor of A: L⁻ᵀ L⁻¹. O(size³ / 3), along rows only. */
export function inverseFromCholesky(factor: Float64Array, size: number): Float64Array {
  const lower = inverseOfLower(factor, size)
  const inverse = new Float64Array(size * size)
  for (let i = 0; i < size; i++) {
    const into = inverse.subarray(i * size, i * size + i + 1)
    for (let k = i; k < size; k += 4) addRows(into, lower, size, i, k, Math.min(k + 4, size))
  }
  for (let i = 0; i < size; i++) for (let j = 0; j < i; j++) inverse[j * size + i] = inverse[i * size + j]
  return inverse
}

/** L⁻¹, by rows: row i of it is (e_i − Σ_{k<i} L_ik · row k) / L_ii. */
function inverseOfLower(factor: Float64Array, size: number): Float64Array {
  const lower = new Float64Array(size * size)
  for (let i = 0; i < size; i++) {
    const into = lower.subarray(i * size, i * size + i + 1)
    let k = 0
    for (; k + 3 < i; k += 4) {
      const at = k * size
      const [f0, f1, f2, f3] = factor.subarray(i * size + k, i * size + k + 4)
      for (let j = 0; j < k + 4; j++) {
        into[j] -=
          f0 * lower[at + j] +
          f1 * lower[at + size + j] +
          f2 * lower[at + 2 * size + j] +
          f3 * lower[at + 3 * size + j]
      }
    }
    for (; k < i; k++) {
      const share = factor[i * size + k]
      for (let j = 0; j <= k; j++) into[j] -= share * lower[k * size + j]
    }
    into[i] = 1
    const pivot = factor[i * size + i]
    for (let j = 0; j <= i; j++) into[j] /= pivot
  }
  return lower
}

/** Adds rows `first` … `end` − 1 of a lower triangle, four at most, each times its entry in column `i`, up to that column. */
function addRows(
  into: Float64Array,
  lower: Float64Array,
  size: number,
  i: number,
  first: number,
  end: number,
): void {
  const at = first * size
  if (end - first < 4) {
    for (let k = first; k < end; k++) {
      const share = lower[k * size + i]
      for (let j = 0; j <= i; j++) into[j] += share * lower[k * size + j]
    }
    return
  }
  const s0 = lower[at + i]
  const s1 = lower[at + size + i]
  const s2 = lower[at + 2 * size + i]
  const s3 = lower[at + 3 * size + i]
  for (let j = 0; j <= i; j++) {
    into[j] +=
      s0 * lower[at + j] +
      s1 * lower[at + size + j] +
      s2 * lower[at + 2 * size + j] +
      s3 * lower[at + 3 * size + j]
  }
}
