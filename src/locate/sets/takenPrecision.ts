import type { ReadingStates } from '../readingStates.ts'

const halfLn2Pi = 0.9189385332046727

/** Precision of the readings that are taken as they stand, the others left out: their rows and columns are zero. */
export interface TakenPrecision {
  readonly size: number
  readonly matrix: Float64Array
  /** The precision times the residual. */
  readonly weighted: Float64Array
  /** ln of what setting these readings aside gains over taking all. */
  readonly base: number
}

/**
 * Leaves out the readings marked `isAside`, except those listed in `back`. Each costs one pivot:
 *
 *   W ← W − w wᵀ/W_pp ,   gain = ln spoiled − ln taken + ½ ln 2π − ½ ln W_pp + ½ (Wρ)_p²/W_pp
 *
 * O(readings² × left out).
 */
export function takenPrecision(
  { count, precision, residualOhm, logTaken, logSpoiled }: ReadingStates,
  isAside: Uint8Array,
  back: readonly number[],
): TakenPrecision {
  const matrix = precision.base.slice()
  for (const v of precision.less) {
    for (let i = 0, at = 0; i < count; i++) {
      const vi = v[i]
      for (let j = 0; j < count; j++, at++) matrix[at] -= vi * v[j]
    }
  }
  const weighted = new Float64Array(count)
  for (let i = 0, at = 0; i < count; i++) {
    let sum = 0
    for (let j = 0; j < count; j++, at++) sum += matrix[at] * residualOhm[j]
    weighted[i] = sum
  }
  let base = 0
  const column = new Float64Array(count)
  for (let p = 0; p < count; p++) {
    if (isAside[p] === 0 || back.includes(p)) continue
    const pivot = matrix[p * count + p]
    const u = weighted[p]
    base += logSpoiled[p] - logTaken[p] + halfLn2Pi - 0.5 * Math.log(pivot) + (0.5 * u * u) / pivot
    for (let i = 0; i < count; i++) column[i] = matrix[p * count + i]
    for (let i = 0; i < count; i++) {
      const share = i === p ? 1 : column[i] / pivot
      if (share === 0) continue
      for (let j = 0, at = i * count; j < count; j++, at++) matrix[at] -= share * column[j]
      weighted[i] -= share * u
    }
    for (let i = 0; i < count; i++) matrix[i * count + p] = 0
    weighted[p] = 0
  }
  return { size: count, matrix, weighted, base }
}
