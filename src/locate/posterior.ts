import { chiSquareTail } from '../base/normal.ts'
import { portion, staged } from '../base/portion.ts'
import type { LocateAnswer } from '../model/answers.ts'
import type { Site } from '../model/schema/site.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { assumptions } from '../reading/assumptions.ts'
import { batchesOf } from './batches.ts'
import { leastShift, visibleChoices } from './choices.ts'
import { describeMeasurement, evidenceWorkspace, judge, type Measurement } from './evidence.ts'
import { groupJoints, type JointGroup } from './groups.ts'
import type { Candidates, LevelModel } from './levelModel.ts'
import { learntLevels } from './kindLevels.ts'
import { modelLevels } from './levels.ts'
import { keptOf, type LocateCache } from './locateCache.ts'
import { foundByLooking, lookOdds } from './lookOdds.ts'
import { countedObservations, observe, type Observation, type Observed } from './observations.ts'
import { estimateOffsets, type OffsetEstimate } from './offsets.ts'
import { rankJoints, type Ranking } from './rank.ts'
import { openSetNetwork } from './sets/openSetNetwork.ts'
import { partingPairs } from './sets/partingPairs.ts'
import { searchSets, setInputsOf } from './sets/searchSets.ts'
import { badJointsOf, type SetInputs } from './sets/setInputs.ts'
import { summarise, type SetRanking } from './sets/setRanking.ts'
import { setShift } from './sets/setShift.ts'
import { trustIn } from './trust.ts'

export interface LocateProgress {
  readonly stage: 'readings' | 'weigh' | 'explain'
  readonly fraction: number
}

/** What the readings of a site make of it, before it is written as an answer. */
export interface Posterior {
  readonly prepared: PreparedNetwork
  readonly observed: Observed
  readonly measurement: Measurement
  readonly models: readonly LevelModel[]
  readonly candidates: Candidates
  /** Single bad joints. */
  readonly ranking: Ranking
  readonly inputs: SetInputs
  /** Any number of bad joints. */
  readonly sets: SetRanking
  /** The groups of `LocateAnswer`, in the same order. */
  readonly groups: readonly JointGroup[]
  readonly offsets: readonly OffsetEstimate[]
  readonly levels: LocateAnswer['levels']
  /** Chance of a fit no better than this one, under the likeliest state of the site. */
  readonly fit: number
  /** See `trustIn`. */
  readonly trust: number
}

/** Readings that count, and all of them with those that a repair has overtaken marked. */
export function observedIn(site: Site, prepared: PreparedNetwork) {
  const observed = observe(site, prepared.network)
  const { observations, beforeRepair } = countedObservations(observed, prepared)
  const readings = observed.readings.map((item) =>
    beforeRepair.has(item.reading.id) ? { ...item, setAside: 'beforeRepair' as const } : item,
  )
  return { observed: { ...observed, readings }, observations }
}

/** Weighs what may be bad on a site; null where no reading counts. Kept in the cache for as long as the site is. */
export function* posteriorOf(
  site: Site,
  prepared: PreparedNetwork,
  cache: LocateCache,
): Generator<LocateProgress, Posterior | null> {
  const kept = keptOf(cache, prepared)
  const known = kept.posteriors.get(site) as Posterior | undefined
  if (known) return known
  const { observed, observations } = observedIn(site, prepared)
  if (!observations.some((o) => o.a !== o.b)) return null
  const measurement = describeMeasurement(observations, observed.intervals)
  const looks = lookOdds(site, prepared.network)
  const { models, candidates, pairs } = yield* modelSite(
    prepared,
    observations,
    measurement,
    [...foundByLooking(looks)],
    cache,
  )
  const { network } = prepared
  const centre = models.findIndex(({ lnSoil }) => lnSoil === 0)
  const choicesWith = (together: ReadonlySet<number>) =>
    visibleChoices(network, candidates, models[centre], measurement, looks, together)
  const alone = choicesWith(new Set())
  const showsOpen = (k: number) => alone[k].some(({ addedOhm }) => addedOhm === Infinity)
  const together = new Set(pairs.flat().flatMap((k) => (showsOpen(k) ? [] : [candidates.edge[k]])))
  const choices = together.size > 0 ? choicesWith(together) : alone
  const ranking = yield* staged('weigh', rankJoints(alone, candidates, models, measurement))
  const setNetwork = yield* staged(
    'explain',
    openSetNetwork(prepared, cache, models, candidates, observations),
  )
  const batches = batchesOf(network, candidates, alone)
  const inputs = setInputsOf(candidates, models, measurement, ranking, setNetwork, choices, batches, {
    isOnlyTogether: Uint8Array.from(candidates.edge, (edge) => (together.has(edge) ? 1 : 0)),
    pairs,
  })
  const search = yield* staged('explain', searchSets(inputs, ranking))
  const { found, soilOhm } = explain(inputs, search.best)
  const { offsets, chiSquare, taken } = found
  const trust = trustIn(chiSquare, taken.length)
  const sets = summarise(inputs, search, trust)
  yield { stage: 'explain', fraction: 0.3 }
  const groups = yield* staged('explain', portion(groupJoints(inputs, sets), 0.3, 0.1))
  yield { stage: 'explain', fraction: 0.4 }
  const fit = taken.length === 0 ? 1 : chiSquareTail(chiSquare, taken.length)
  const soilLnSd = models.length > 1 ? assumptions.soilLevelLnSd : 0
  const levels = learntLevels(network.kinds, models[search.best.level], found, soilOhm, soilLnSd)
  const posterior: Posterior = {
    prepared,
    observed,
    measurement,
    models,
    candidates,
    ranking,
    inputs,
    sets,
    groups,
    offsets,
    levels,
    fit,
    trust,
  }
  kept.posteriors.set(site, posterior)
  return posterior
}

/**
 * The model at every soil level, with the joints that show only together with another one among the candidates where
 * readings are high: `pairs` by candidate. `found`: joints that a look found something wrong with, by edge.
 */
function* modelSite(
  prepared: PreparedNetwork,
  observations: readonly Observation[],
  measurement: Measurement,
  found: readonly number[],
  cache: LocateCache,
) {
  const model = (besides: readonly number[]) =>
    modelLevels(prepared, observations, measurement.ownSdOhm, leastShift, cache, [...found, ...besides])
  const first = yield* staged('readings', model([]))
  const centre = first.levels.findIndex(({ lnSoil }) => lnSoil === 0)
  const parting = yield* staged(
    'weigh',
    portion(partingPairs(prepared, cache, measurement, first.levels[centre]), 0, 0),
  )
  const known = new Set(first.candidates.edge)
  const besides = [...new Set(parting.flat().filter((edge) => !known.has(edge)))]
  const { levels: models, candidates } =
    besides.length === 0 ? first : yield* staged('readings', portion(model(besides), 1, 0))
  const place = new Map(Array.from(candidates.edge, (edge, k) => [edge, k]))
  const pairs = parting.map(([one, other]) => [place.get(one) ?? -1, place.get(other) ?? -1] as const)
  return { models, candidates, pairs }
}

/** The likeliest state of the site: what it makes of leads and how well it fits. */
function explain(inputs: SetInputs, { members, level }: SetRanking['best']) {
  const { network, models, levels, measurement } = inputs
  const work = evidenceWorkspace(levels[0].finite.length)
  const shift = setShift(network, models, level, badJointsOf(inputs, members))
  const judged = judge(levels[level], measurement, shift, work, { quick: false })
  return { found: estimateOffsets(levels[level], measurement, shift, judged), soilOhm: shift.columns[0] }
}
