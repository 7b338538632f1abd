import type { Fault } from '../generator/drawOhms.ts'
import type { Scenario } from '../generator/drawScenario.ts'
import type { TypedSite } from '../typedSite.ts'
import { visibleAmong } from '../visibility.ts'

/** What was wrong, as edges of the drawn network. */
export interface Target {
  readonly faults: readonly Fault[]
  /** Those that the readings could show. */
  readonly visible: readonly number[]
}

export function targetOf(scenario: Scenario, typed: TypedSite): Target {
  const faults = drawnFaults(scenario, typed)
  return { faults, visible: visibleAmong(typed)(faults) }
}

/** The bad joints by edges of the drawn network. */
export function drawnFaults({ faults, possible }: Scenario, typed: TypedSite): Fault[] {
  return faults.map(({ edge, addedOhm }) => {
    const at = typed.edgeOf.get(possible.address[edge])
    if (at === undefined) throw new Error(`${possible.address[edge]} was not drawn`)
    return { edge: at, addedOhm }
  })
}
