import { portion, staged } from '../base/portion.ts'
import { ok, type Result } from '../base/result.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import { writePartAddress } from '../model/address.ts'
import type { PairBound, PlanAnswer, PlanInput, PlanPairInput } from '../model/planning.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import type { Network } from '../network/compile.ts'
import { candidatesOf } from '../plan/candidatePairs.ts'
import { coverageOf, type CoverageTerms } from '../plan/coverage.ts'
import { isInReach, type PartPair } from '../plan/ownPairs.ts'
import { patternPairs } from '../plan/patternPairs.ts'
import { propose } from '../plan/propose.ts'
import { viewsIn } from '../plan/sightBook.ts'
import { layOutWalk, type LaidOutWalk } from '../walk/layOut.ts'
import { planTerms, resolvePairs } from './answerCoverage.ts'
import { basisOf } from './basis.ts'
import type { Progress } from './progress.ts'
import { preparedOf, type SiteCache } from './siteCache.ts'

/** A plan: pairs chosen for what they show, the walk through them, and what it shows. */
export function* answerPlan(
  input: PlanInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<PlanAnswer, readonly Problem[]>> {
  const prepared = yield* preparedOf(site.drawing, input, cache)
  if (!prepared.ok) return prepared
  const { network } = prepared.value
  const required = resolvePairs(network.index, input.required)
  if (!required.ok) return required
  const terms = yield* staged('candidates', portion(planTerms(input, site, prepared.value, cache), 0, 0.1))
  const chosen = yield* chosenPairs(input, network, terms, required.value)
  const walk = yield* staged('walk', layOutWalk(network.index, chosen.pairs, { persons: input.persons }))
  const walked = walk.order.map(({ from, to }) => ({ a: from, b: to }))
  const coverage = yield* staged('coverage', coverageOf(terms, walked))
  const basis = basisOf(site)
  return ok({
    basis,
    ...walkedPlan(network, walk, chosen.required),
    bound: chosen.bound,
    candidates: chosen.candidates,
    coverage: { basis, ...coverage },
    outOfReach: input.required.filter((_, k) => !isInReach(network, terms.reachable, required.value[k])),
  })
}

interface Chosen {
  readonly pairs: readonly PartPair[]
  /** So many of the first are required. */
  readonly required: number
  readonly bound: PairBound | null
  readonly candidates: number
}

/** Required pairs first, each once, those out of reach among them; the bound counts them all. */
function* chosenPairs(
  input: PlanInput,
  network: Network,
  terms: CoverageTerms,
  asked: readonly PartPair[],
): Generator<Progress, Chosen> {
  const required = eachOnce(network, asked)
  const inReach = required.filter((pair) => isInReach(network, terms.reachable, pair))
  const outOfReach = required.filter((pair) => !inReach.includes(pair))
  if (input.how !== 'proposed') {
    const laid = patternPairs(input.how, network.index, terms.reachable.reachM)
    const pairs = eachOnce(network, [...required, ...laid])
    return { pairs, required: required.length, bound: null, candidates: laid.length }
  }
  const views = yield* staged('candidates', viewsIn(terms.book, inReach))
  const candidates = yield* staged('candidates', candidatesOf(terms))
  const proposal = yield* staged('choose', propose(terms.book.sighting, candidates, views, input))
  const bound = proposal.bound && { ...proposal.bound, pairs: proposal.bound.pairs + outOfReach.length }
  return {
    pairs: [...outOfReach, ...proposal.pairs],
    required: required.length,
    bound,
    candidates: candidates.count,
  }
}

function eachOnce(network: Network, pairs: readonly PartPair[]): readonly PartPair[] {
  const seen = new Map<number, PartPair>()
  for (const { a, b } of pairs) {
    const pair = { a: Math.min(a, b), b: Math.max(a, b) }
    const key = pair.a * network.graph.nodeCount + pair.b
    if (!seen.has(key)) seen.set(key, pair)
  }
  return [...seen.values()]
}

type Walked = Pick<PlanAnswer, 'pairs' | 'setUps' | 'wayM' | 'minutes' | 'wayBoundM'>

function walkedPlan(network: Network, walk: LaidOutWalk, required: number): Walked {
  const address = (part: number) => writePartAddress(partAddressAt(network.index, part))
  const ends = ({ from, to }: { from: number; to: number }): PlanPairInput => ({
    from: address(from),
    to: address(to),
  })
  return {
    pairs: walk.order.map(({ pair, from, to, setUp, wayM, minutes }) => ({
      ...ends({ from, to }),
      required: pair < required,
      setUp,
      wayM,
      minutes,
    })),
    setUps: walk.setUps.map(({ at, pairs, wayM, minutes }) => ({ at: address(at), pairs, wayM, minutes })),
    wayM: walk.wayM,
    minutes: walk.minutes,
    wayBoundM: walk.wayBoundM,
  }
}
