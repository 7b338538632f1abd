import { portion, staged } from '../base/portion.ts'
import { fail, ok, type Result } from '../base/result.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { bookAt } from '../locate/locateCache.ts'
import type { CoverageAnswer, CoverageInput, PlanPairInput, PlanTerms } from '../model/planning.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { coverageOf, type CoverageTerms } from '../plan/coverage.ts'
import { coverageTermsOf } from '../plan/planCache.ts'
import { planKitOf } from '../plan/planKit.ts'
import { basisOf } from './basis.ts'
import type { Progress } from './progress.ts'
import { resolvePair, type Pair } from './resolvePart.ts'
import { preparedOf, type SiteCache } from './siteCache.ts'

/** Problems of one question that are told at most. */
const mostProblems = 50

/** What a set of pairs shows of every joint. */
export function* answerCoverage(
  input: CoverageInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<CoverageAnswer, readonly Problem[]>> {
  const prepared = yield* preparedOf(site.drawing, input, cache)
  if (!prepared.ok) return prepared
  const pairs = resolvePairs(prepared.value.network.index, input.pairs)
  if (!pairs.ok) return pairs
  const terms = yield* staged('coverage', portion(planTerms(input, site, prepared.value, cache), 0, 0.1))
  const coverage = yield* staged('coverage', portion(coverageOf(terms, pairs.value), 0.1, 0.9))
  return ok({ basis: basisOf(site), ...coverage })
}

/** Pairs as someone typed or kept them, by part numbers; every problem with any is told. */
export function resolvePairs(
  index: SiteIndex,
  pairs: readonly PlanPairInput[],
): Result<readonly Pair[], readonly Problem[]> {
  const found: Pair[] = []
  const problems: Problem[] = []
  for (const { from, to } of pairs) {
    const pair = resolvePair(index, from, to)
    if (pair.ok) found.push(pair.value)
    else problems.push(...pair.error)
  }
  return problems.length > 0 ? fail(problems.slice(0, mostProblems)) : ok(found)
}

/** What the pairs of a plan are held against, with what earlier questions have left. */
export function* planTerms(
  input: PlanTerms,
  site: Site,
  prepared: PreparedNetwork,
  cache: SiteCache,
): Generator<number, CoverageTerms> {
  const source = yield* bookAt(cache.locate, prepared, 0)
  const planKit = planKitOf(site.record, prepared.network.index, input)
  return coverageTermsOf(cache.plan, prepared, source, planKit, input.severity)
}
