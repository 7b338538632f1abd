import { portion } from '../base/portion.ts'
import type { PairBound, PlanInput } from '../model/planning.ts'
import { layOutWalk } from '../walk/layOut.ts'
import type { Candidates } from './candidates.ts'
import { chooseNearFirst } from './choose/nearFirst.ts'
import type { PartPair } from './ownPairs.ts'
import { proposalInstance } from './proposalInstance.ts'
import type { PairView, Sighting } from './sighting.ts'
import { withinMinutes } from './withinMinutes.ts'

export interface Proposal {
  /** Required ones first, in their order. */
  readonly pairs: readonly PartPair[]
  /** Null where minutes were short: what fits has no bound. */
  readonly bound: PairBound | null
}

/** What is asked of a plan that is chosen for what it shows. */
export type ProposalTerms = Pick<PlanInput, 'tellApart' | 'timesShown' | 'mostMinutes' | 'persons'>

/** Pairs chosen for what they show, beside required ones with what these show. Yields its fraction done. */
export function* propose(
  { prepared: { network } }: Pick<Sighting, 'prepared'>,
  candidates: Candidates,
  requiredViews: readonly PairView[],
  terms: ProposalTerms,
): Generator<number, Proposal> {
  const { tellApart, mostMinutes, persons } = terms
  const whole = mostMinutes === null ? 1 : 0.5
  const made = yield* portion(proposalInstance(network, candidates, requiredViews, terms), 0, 0.2 * whole)
  const { instance, required, pairs, isNear } = made
  const pairsOf = (chosen: readonly number[]) => chosen.map((c) => pairs[c])
  const { chosen, bound } = yield* portion(
    chooseNearFirst(instance, required, tellApart, isNear),
    0.2 * whole,
    0.8 * whole,
  )
  if (mostMinutes === null) return { pairs: pairsOf(chosen), bound }
  const walkMin = function* (some: readonly number[]): Generator<number, number> {
    return (yield* layOutWalk(network.index, pairsOf(some), { persons })).minutes
  }
  if ((yield* portion(walkMin(chosen), 0.5, 0.1)) <= mostMinutes) return { pairs: pairsOf(chosen), bound }
  const within = { mostMinutes, tellApart }
  const fits = yield* portion(withinMinutes(instance, required, chosen, within, walkMin), 0.6, 0.4)
  return { pairs: pairsOf(fits), bound: null }
}
