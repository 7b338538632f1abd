import { fail, ok, type Result } from '../base/result.ts'
import type { Problem } from '../model/problem.ts'
import { problem } from '../model/problem.ts'
import type { SampleAnswer, SampledPair, SampleInput } from '../model/planning.ts'
import { byId } from '../model/queries/byId.ts'
import type { Site } from '../model/schema/site.ts'
import { reachableKinds } from '../plan/patterns/pointOrder.ts'
import { leastShare, mostShare } from '../plan/sampling/clopperPearson.ts'
import { badOf } from '../plan/sampling/clusterSample.ts'
import { escalate } from '../plan/sampling/escalation.ts'
import { tablesOf, type LotItem } from '../plan/sampling/lot.ts'
import { lotOfKind, lotOfPlan, type Lot } from '../plan/sampling/lotItems.ts'
import { acceptedShare, operatingCurve, refusedShare } from '../plan/sampling/operatingCharacteristic.ts'
import { chanceLeft } from '../plan/sampling/sampleSize.ts'
import { takeSample, type Sample } from '../plan/sampling/takeSample.ts'
import { basisOf } from './basis.ts'
import type { Progress } from './progress.ts'
import { samplingProblems } from './samplingProblems.ts'
import { networkOf, type SiteCache } from './siteCache.ts'

/** Chances at which an operating characteristic is usually read off: a producer's and a consumer's. */
const usuallyAccepted = 0.95
const seldomAccepted = 0.1

/**
 * Draws a sample from a lot and says what it is worth; with what failed of it, what is to be tested next.
 */
export function* answerSample(
  input: SampleInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<SampleAnswer, readonly Problem[]>> {
  const wrong = samplingProblems(input)
  if (wrong.length > 0) return fail(wrong)
  const made = yield* lotOf(input, site, cache)
  if (!made.ok) return made
  const { items, noAccess } = made.value
  if (items.length === 0) return fail([tooFew('an empty lot')])
  const clusters =
    input.perTable === null ? null : { perTable: input.perTable, correlation: input.correlation }
  const sample = takeSample(items, input, clusters, input.seed)
  if (!sample) return fail([tooFew(String(items.length))])
  const failed = placesOf(items, input)
  if (!failed.ok) return failed
  return ok({
    basis: basisOf(site),
    lot: {
      of: input.lot,
      items: items.length,
      tables: tablesOf(items).length,
      noAccess,
      bad: badOf(input.mostBadShare, items.length),
    },
    asked: {
      mostBadShare: input.mostBadShare,
      confidence: input.confidence,
      failuresAllowed: input.failuresAllowed,
      perTable: input.perTable,
      correlation: input.correlation,
      seed: input.seed,
    },
    drawn: sample.drawn.map((k) => pairOf(items[k])),
    ...worthOf(sample, items.length, input),
    result: resultOf(sample, items, failed.value, input),
  })
}

function tooFew(found: string): Problem {
  return problem(
    'value.outOfRange',
    { expected: 'a lot in which that share is more than the failures allowed', found },
    { path: ['lot'] },
  )
}

function* lotOf(
  input: SampleInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<Lot, readonly Problem[]>> {
  const { lot } = input
  if (lot.of === 'plan') {
    const plan = byId(site.drawing.plans).get(lot.plan)
    return plan
      ? ok(lotOfPlan(plan))
      : fail([problem('reference.unknownName', { what: 'plan', name: lot.plan })])
  }
  if (!byId(site.drawing.jointKinds).has(lot.kind))
    return fail([problem('reference.unknownName', { what: 'joint kind', name: lot.kind })])
  const network = yield* networkOf(site.drawing, input, cache)
  return network.ok ? ok(lotOfKind(network.value, lot.kind, reachableKinds(site.drawing))) : network
}

/** Places in the lot of the pairs that failed, in either order of their ends. */
function placesOf(
  items: readonly LotItem[],
  { failed }: SampleInput,
): Result<readonly number[], readonly Problem[]> {
  const keyOf = (from: string, to: string) => [from, to].toSorted().join(' ')
  const places = new Map(items.map(({ from, to }, k) => [keyOf(from, to), k]))
  const strange = failed.filter(({ from, to }) => !places.has(keyOf(from, to)))
  if (strange.length > 0) {
    return fail(
      strange.map(({ from, to }) =>
        problem('reference.unknownName', { what: 'pair of the lot', name: `${from} to ${to}` }),
      ),
    )
  }
  return ok([...new Set(failed.map(({ from, to }) => places.get(keyOf(from, to))!))])
}

function worthOf(sample: Sample, items: number, { failuresAllowed, mostBadShare }: SampleInput) {
  const acceptance = sample.acceptance(failuresAllowed)
  return {
    tables: sample.tables,
    confidence: 1 - acceptance(mostBadShare),
    confidenceByTable: sample.byTable ? 1 - sample.byTable(failuresAllowed)(mostBadShare) : null,
    designEffect: sample.designEffect,
    isWhole: sample.isWhole,
    curve: operatingCurve(acceptance, items),
    acceptedShare: acceptedShare(acceptance, items, usuallyAccepted),
    refusedShare: refusedShare(acceptance, items, seldomAccepted),
  }
}

function resultOf(
  sample: Sample,
  items: readonly LotItem[],
  failed: readonly number[],
  { failuresAllowed, confidence, perTable }: SampleInput,
): SampleAnswer['result'] {
  const isDrawn = new Set(sample.drawn)
  const count = failed.filter((k) => isDrawn.has(k)).length
  const { isAccepted, tables, rows, lot } = escalate(items, sample.drawn, failed, failuresAllowed)
  const tested = sample.drawn.length
  const twoSided = (1 + confidence) / 2
  const pairs = (places: readonly number[]) => places.map((k) => pairOf(items[k]))
  return {
    failed: count,
    isAccepted,
    lessThanShare: refusedShare(sample.acceptance(count), items.length, chanceLeft(confidence)) ?? 1,
    estimate:
      perTable === null
        ? { least: leastShare(count, tested, twoSided), most: mostShare(count, tested, twoSided) }
        : null,
    tables: pairs(tables),
    rows: pairs(rows),
    rest: pairs(lot),
  }
}

function pairOf({ from, to, joint }: LotItem): SampledPair {
  return { from, to, joint }
}
