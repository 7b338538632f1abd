import { catalogueLnError } from './catalogueError.ts'
import { believe } from './evaluate.ts'
import { drawScenario } from './generator/drawScenario.ts'
import type { Family } from './generator/families.ts'
import { ceiling, ceilingEffort, jackknifeError } from './methods/ceiling/ceiling.ts'
import type { Row } from './results.ts'
import { scoreOf, type Score } from './scores/score.ts'
import { targetOf } from './scores/target.ts'

/** What is known of a run before it begins. */
export interface Origin {
  readonly program: string
  readonly commit: string
}

/** All methods on one scenario; the dear ones, the ceiling and the program told how many to expect, where asked for. */
export function staticRow(origin: Origin, family: Family, seed: number, withDear: boolean): Row {
  const startedMs = performance.now()
  const scenario = drawScenario(family, seed)
  const { typed, beliefs } = believe(scenario, withDear)
  const target = targetOf(scenario, typed)
  const methods: Record<string, Score> = {}
  for (const [name, belief] of Object.entries(beliefs)) methods[name] = scoreOf(belief, target)
  let ceilingError: number | null = null
  // the ceiling knows two-wire clips as frequent as assumed; four-wire digits are too fine for networks drawn blindly
  if (withDear && family.kit.method === 'twoWire' && !family.withLoopClamp && !family.contactsByLot) {
    const { belief, without } = ceiling(scenario, typed, ceilingEffort)
    methods['ceiling'] = scoreOf(belief, target)
    ceilingError = jackknifeError(without.map((each) => scoreOf(each, target).logScore))
  }
  return {
    ...origin,
    family: family.name,
    kit: family.kit.method === 'fourWire' ? 'B' : family.withLoopClamp ? 'A and D' : 'A',
    seed,
    clampsPerFrame: scenario.shape.clampsPerFrame,
    inSoil: scenario.shape.inSoil,
    contactFactor: scenario.contactFactor,
    catalogueLnError: catalogueLnError(scenario, typed),
    faults: target.faults.length,
    visible: target.visible.length,
    readings: typed.readings.length,
    methods,
    ceilingError,
    seconds: (performance.now() - startedMs) / 1000,
  }
}
