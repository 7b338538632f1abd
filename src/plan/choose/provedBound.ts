import type { CoverSets } from './coverSets.ts'

/** Prices are whole multiples of 2⁻³⁰, so that sums of them are exact in doubles. */
export const priceUnit = 2 ** 30

/**
 * A number of candidates that no choice that meets all demands can go below, proved by a price per joint: whatever prices
 * y ≥ 0 are, Σ demand·y − Σ over candidates of max(0, Σ y of its joints − 1) is a bound on the relaxed choice and so on
 * any (weak duality of linear programming), where prices are a solver's with its rounding or a guess. Counted in whole
 * numbers: no rounding in the proof. Prices are cut down to multiples of 1/`priceUnit`.
 */
export function provedBound(sets: CoverSets, price: ArrayLike<number>): number {
  const whole = wholePrices(price)
  const { joints, candidates, offset, joint, demand } = sets
  let total = 0
  for (let e = 0; e < joints; e++) total += demand[e] * whole[e]
  for (let c = 0; c < candidates; c++) {
    let sum = 0
    for (let i = offset[c]; i < offset[c + 1]; i++) sum += whole[joint[i]]
    if (sum > priceUnit) total -= sum - priceUnit
  }
  return Math.max(0, Math.ceil(total / priceUnit))
}

/** Prices as whole multiples of 1/`priceUnit`, none below 0. */
export function wholePrices(price: ArrayLike<number>): Float64Array {
  return Float64Array.from(price, (y) => Math.max(0, Math.floor(y * priceUnit)))
}
