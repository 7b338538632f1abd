import type { Fault } from '../generator/drawOhms.ts'
import type { Scenario } from '../generator/drawScenario.ts'
import { drawnFaults, type Target } from '../scores/target.ts'
import type { TypedSite } from '../typedSite.ts'
import { visibleAmong } from '../visibility.ts'

/** Table of a joint, by its address; what is in no table is by itself. */
const placeOf = (address: string) => /^R\d+\/T\d+/.exec(address)?.[0] ?? address

/** As `targetOf`; what hides a bad joint or brings it to light is looked for among those of the same table. */
export function largeTargetOf(scenario: Scenario, typed: TypedSite): Target {
  const faults = drawnFaults(scenario, typed)
  const together = new Map<string, Fault[]>()
  for (const fault of faults) {
    const place = placeOf(typed.address[fault.edge])
    together.set(place, [...(together.get(place) ?? []), fault])
  }
  const seen = visibleAmong(typed)
  return { faults, visible: [...together.values()].flatMap(seen) }
}
