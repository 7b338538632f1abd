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

/** W x into `out`. */
export function timesPrecision(
  { size, base, less }: Precision,
  x: Float64Array,
  out: Float64Array,
): Float64Array {
  for (let i = 0, at = 0; i < size; i++) {
    let sum = 0
    for (let j = 0; j < size; j++, at++) sum += base[at] * x[j]
    out[i] = sum
  }
  for (const v of less) {
    let sum = 0
    for (let j = 0; j < size; j++) sum += v[j] * x[j]
    for (let i = 0; i < size; i++) out[i] -= sum * v[i]
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
  if (!column.some((x) => x !== 0)) return { precision, logDeterminant: 0 }
  const { size } = precision
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
