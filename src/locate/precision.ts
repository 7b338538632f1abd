/**
 * Inverse of the covariance of n readings as a matrix that many hypotheses share, less what each of them adds
 * to the uncertainty: W = B − Σ v vᵀ. A product with W costs n² + n per v, an entry one step per v; no matrix is made
 * per hypothesis.
 */
export interface Precision {
  readonly size: number
  /** B, n × n, symmetric. */
  readonly base: Float64Array
  readonly less: readonly Float64Array[]
}

/** W x into `out`. Four rows go side by side: their sums wait for nothing but their own last term. */
export function timesPrecision(
  { size, base, less }: Precision,
  x: Float64Array,
  out: Float64Array,
): Float64Array {
  let i = 0
  for (; i + 3 < size; i += 4) {
    let s0 = 0
    let s1 = 0
    let s2 = 0
    let s3 = 0
    const r0 = i * size
    const r1 = r0 + size
    const r2 = r1 + size
    const r3 = r2 + size
    for (let j = 0; j < size; j++) {
      const xj = x[j]
      s0 += base[r0 + j] * xj
      s1 += base[r1 + j] * xj
      s2 += base[r2 + j] * xj
      s3 += base[r3 + j] * xj
    }
    out[i] = s0
    out[i + 1] = s1
    out[i + 2] = s2
    out[i + 3] = s3
  }
  for (; i < size; i++) {
    let sum = 0
    for (let j = 0; j < size; j++) sum += base[i * size + j] * x[j]
    out[i] = sum
  }
  for (const v of less) {
    let sum = 0
    for (let j = 0; j < size; j++) sum += v[j] * x[j]
    for (let k = 0; k < size; k++) out[k] -= sum * v[k]
  }
  return out
}

/** xᵀ W x, without W x. */
export function quadraticForm({ size, base, less }: Precision, x: Float64Array): number {
  let square = 0
  for (let i = 0, at = 0; i < size; i++) {
    let sum = 0
    for (let j = 0; j < size; j++, at++) sum += base[at] * x[j]
    square += sum * x[i]
  }
  for (const v of less) {
    let sum = 0
    for (let j = 0; j < size; j++) sum += v[j] * x[j]
    square -= sum * sum
  }
  return square
}

/** The diagonal of W into `out`. */
export function precisionDiagonal({ size, base, less }: Precision, out: Float64Array): Float64Array {
  for (let i = 0; i < size; i++) out[i] = base[i * size + i]
  for (const v of less) for (let i = 0; i < size; i++) out[i] -= v[i] * v[i]
  return out
}

export function precisionEntry({ size, base, less }: Precision, i: number, j: number): number {
  let value = base[i * size + j]
  for (const v of less) value -= v[i] * v[j]
  return value
}

/**
 * W after c cᵀ was added to the covariance, and by how much that raised ln det of the covariance (Sherman and
 * Morrison 1950): with q = cᵀWc, v = W c / √(1 + q), ln det grows by ln(1 + q). A column that adds next to nothing
 * leaves W as it is.
 */
export function widened(
  precision: Precision,
  column: Float64Array,
): { readonly precision: Precision; readonly logDeterminant: number } {
  const { size } = precision
  let first = 0
  while (first < size && column[first] === 0) first++
  if (first === size) return { precision, logDeterminant: 0 }
  const v = timesPrecision(precision, column, new Float64Array(size))
  let quadratic = 0
  for (let i = 0; i < size; i++) quadratic += v[i] * column[i]
  if (!(quadratic > 1e-12)) return { precision, logDeterminant: 0 }
  const scale = 1 / Math.sqrt(1 + quadratic)
  for (let i = 0; i < size; i++) v[i] *= scale
  return {
    precision: { ...precision, less: [...precision.less, v] },
    logDeterminant: Math.log1p(quadratic),
  }
}
