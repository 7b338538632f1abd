import type { TypedSite } from '../typedSite.ts'
import { leastVisible, shiftOf } from '../visibility.ts'

export interface GridSeverity {
  readonly addedOhm: number
  readonly share: number
}

const cells = 24
const kept = new WeakMap<TypedSite, Map<number, GridSeverity[]>>()

/** As `gridOf`, once for all methods that ask. */
export function visibleSeverities(typed: TypedSite, edge: number): GridSeverity[] {
  const ofSite = kept.get(typed) ?? new Map<number, GridSeverity[]>()
  kept.set(typed, ofSite)
  const grid = ofSite.get(edge) ?? gridOf(typed, edge)
  ofSite.set(edge, grid)
  return grid
}

/** Half open, half raised log-uniformly in even cells; those that the readings cannot show are left out. */
function gridOf(typed: TypedSite, edge: number): GridSeverity[] {
  const from = Math.max(0.001, typed.prepared.network.medianOhm[edge])
  const raised = Array.from({ length: cells }, (_, j) => ({
    addedOhm: from * (1000 / from) ** ((j + 0.5) / cells),
    share: 0.5 / cells,
  }))
  return [...raised, { addedOhm: Infinity, share: 0.5 }].filter(
    ({ addedOhm }) => shiftOf(typed, edge, addedOhm) >= leastVisible,
  )
}
