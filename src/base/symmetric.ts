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
    for (let i = j + 1; i < size; i++) {
      let sum = matrix[i * size + j]
      for (let k = 0; k < j; k++) sum -= matrix[i * size + k] * matrix[j * size + k]
      matrix[i * size + j] = sum / root
    }
  }
  return -1
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

/** A⁻¹ (full, symmetric) from the Cholesky factor of A. O(size³). */
export function inverseFromCholesky(factor: Float64Array, size: number): Float64Array {
  const inverse = new Float64Array(size * size)
  const column = new Float64Array(size)
  for (let j = 0; j < size; j++) {
    column.fill(0)
    column[j] = 1
    solveLower(factor, size, column)
    for (let i = size - 1; i >= 0; i--) {
      let sum = column[i]
      for (let k = i + 1; k < size; k++) sum -= factor[k * size + i] * column[k]
      column[i] = sum / factor[i * size + i]
    }
    for (let i = 0; i < size; i++) inverse[i * size + j] = column[i]
  }
  return inverse
}
