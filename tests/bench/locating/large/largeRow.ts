import type { Belief } from '../belief.ts'
import type { MethodName } from '../evaluate.ts'
import { askWithin, beliefOfAnswer, processorSeconds } from '../methods/engine.ts'
import { halvedCandidates } from '../methods/halving.ts'
import { independentGaussian } from '../methods/independentGaussian.ts'
import { nearestToHighest } from '../methods/nearestHighest.ts'
import { priorOnly } from '../methods/priorOnly.ts'
import { scoreOf, type Score } from '../scores/score.ts'
import type { Target } from '../scores/target.ts'
import type { Origin } from '../staticRow.ts'
import { typedSite } from '../typedSite.ts'
import { drawLarge, type Pattern } from './drawLarge.ts'
import type { LargeFamily } from './largeFamilies.ts'
import { largeTargetOf } from './largeTarget.ts'

/** Groups from the top that a crew would see to first. */
export const firstGroups = 5

/** An answer that takes more of the processor than this is not waited for. */
export const mostEngineSeconds = 60

export interface LargeScore extends Pick<
  Score,
  'first' | 'firstSeen' | 'firstStated' | 'nothing' | 'states'
> {
  /** How many of the first five groups there are, hold a bad joint, and one that could be seen. */
  readonly five: number
  readonly fiveBad: number
  readonly fiveSeen: number
}

export interface LargeRow extends Origin {
  readonly family: string
  readonly seed: number
  readonly pattern: Pattern
  readonly joints: number
  readonly readings: number
  readonly faults: number
  readonly visible: number
  readonly methods: Readonly<Partial<Record<MethodName, LargeScore>>>
  /** Of the processor, until the answer or until it was stopped; then it has no score. */
  readonly engineSeconds: number
  readonly seconds: number
}

export function largeScoreOf(belief: Belief, target: Target): LargeScore {
  const { first, firstSeen, firstStated, nothing, states } = scoreOf(belief, target)
  const top = belief.groups.slice(0, firstGroups)
  const holding = (bad: ReadonlySet<number>) =>
    top.filter(({ edges }) => edges.some((edge) => bad.has(edge))).length
  return {
    first,
    firstSeen,
    firstStated,
    nothing,
    states,
    five: top.length,
    fiveBad: holding(new Set(target.faults.map(({ edge }) => edge))),
    fiveSeen: holding(new Set(target.visible)),
  }
}

/** The program and the ways that are quick enough for some thousands of joints. */
export function largeRow(origin: Origin, family: LargeFamily, seed: number): LargeRow {
  const startedMs = performance.now()
  const { scenario, pattern } = drawLarge(family, seed)
  const typed = typedSite(scenario.site)
  const target = largeTargetOf(scenario, typed)
  const askedS = processorSeconds()
  const answer = askWithin(scenario.site, mostEngineSeconds)
  const engineSeconds = processorSeconds() - askedS
  const score = (belief: Belief) => largeScoreOf(belief, target)
  return {
    ...origin,
    family: family.name,
    seed,
    pattern,
    joints: typed.prepared.network.defectRate.filter((rate) => rate > 0).length,
    readings: typed.readings.length,
    faults: target.faults.length,
    visible: target.visible.length,
    methods: {
      ...(answer === null ? {} : { engine: score(beliefOfAnswer(typed, answer)) }),
      nearest: score(nearestToHighest(typed)),
      halving: score(halvedCandidates(typed)),
      gaussian: score(independentGaussian(typed)),
      prior: score(priorOnly(typed)),
    },
    engineSeconds,
    seconds: (performance.now() - startedMs) / 1000,
  }
}
