import { beliefFrom, type Belief } from '../belief.ts'
import type { TypedSite } from '../typedSite.ts'
import { visibleSeverities } from './severityGrid.ts'

/** Odds of each joint by its catalogue rate, as far as its faults could be seen; no reading is looked at. */
export function priorWeights(typed: TypedSite): Float64Array {
  const { defectRate } = typed.prepared.network
  return defectRate.map((rate, e) => {
    const seen = rate > 0 ? visibleSeverities(typed, e).reduce((sum, { share }) => sum + share, 0) : 0
    return (rate / (1 - rate)) * seen
  })
}

export function priorOnly(typed: TypedSite): Belief {
  return beliefFrom(1, priorWeights(typed))
}
