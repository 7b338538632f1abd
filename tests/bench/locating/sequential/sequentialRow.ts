import { drawScenario } from '../generator/drawScenario.ts'
import type { Family } from '../generator/families.ts'
import { targetOf } from '../scores/target.ts'
import type { Origin } from '../staticRow.ts'
import { typedSite } from '../typedSite.ts'
import { boundOf, type Bound } from './bound.ts'
import { follow, type Found } from './follow.ts'
import { advised, halfSplitting, nearestHighest, priorOrder } from './policies.ts'

/** What came of all ways on one array; without ways where a first test could show nothing. */
export interface SequentialRow extends Origin {
  readonly family: string
  readonly seed: number
  readonly faults: number
  readonly visible: number
  readonly ways: Readonly<Record<string, Found>>
  readonly bound: Bound | null
  readonly seconds: number
}

export function sequentialRow(origin: Origin, family: Family, seed: number): SequentialRow {
  const startedMs = performance.now()
  const scenario = drawScenario(family, seed)
  const typed = typedSite(scenario.site)
  const { faults, visible } = targetOf(scenario, typed)
  const { pairs } = scenario
  const policies = [advised(pairs), halfSplitting(pairs), nearestHighest(pairs), priorOrder()]
  const isAsked = visible.length > 0
  return {
    ...origin,
    family: family.name,
    seed,
    faults: faults.length,
    visible: visible.length,
    ways: Object.fromEntries(
      isAsked ? policies.map((policy) => [policy.name, follow(scenario, policy)] as const) : [],
    ),
    bound: isAsked ? boundOf(scenario, typed) : null,
    seconds: (performance.now() - startedMs) / 1000,
  }
}
