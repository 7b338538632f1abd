import { assert } from '../base/assert.ts'

/**
 * Solves A x = b for a small full matrix, by rows, by elimination with the largest pivot of a column (each row measured by its
 * own largest entry). Both are overwritten: b becomes x. O(n³). Throws when the matrix is singular.
 */
export function solveDense(a: Float64Array, b: Float64Array, n: number): Float64Array {
  for (let i = 0; i < n; i++) {
    let most = 0
    for (let k = 0; k < n; k++) most = Math.max(most, Math.abs(a[i * n + k]))
    if (!(most > 0 && most < Infinity)) assert(false, `row ${i} of a circuit's equations is ${most}`)
    for (let k = 0; k < n; k++) a[i * n + k] /= most
    b[i] /= most
  }
  for (let j = 0; j < n; j++) {
    let best = j
    for (let i = j + 1; i < n; i++) if (Math.abs(a[i * n + j]) > Math.abs(a[best * n + j])) best = i
    const pivot = a[best * n + j]
    if (pivot === 0) assert(false, `the equations of a circuit leave unknown ${j} free`)
    if (best !== j) swapRows(a, b, n, best, j)
    for (let i = j + 1; i < n; i++) {
      const share = a[i * n + j] / pivot
      if (share === 0) continue
      for (let k = j + 1; k < n; k++) a[i * n + k] -= share * a[j * n + k]
      b[i] -= share * b[j]
    }
  }
  for (let j = n - 1; j >= 0; j--) {
    for (let k = j + 1; k < n; k++) b[j] -= a[j * n + k] * b[k]
    b[j] /= a[j * n + j]
  }
  return b
}

function swapRows(a: Float64Array, b: Float64Array, n: number, i: number, j: number): void {
  for (let k = 0; k < n; k++) {
    const kept = a[i * n + k]
    a[i * n + k] = a[j * n + k]
    a[j * n + k] = kept
  }
  const kept = b[i]
  b[i] = b[j]
  b[j] = kept
}
