import { portion, staged } from '../base/portion.ts'
import type { Basis, LocateAnswer, SuspectGroup } from '../model/answers.ts'
import type { Site } from '../model/schema/site.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import {
  averageJudgements,
  headlineOf,
  soundLeaveOuts,
  uncounted,
  writeGroup,
  writeNullings,
  writeReadings,
  type Findings,
} from './answer.ts'
import { describeCoverage } from './coverage.ts'
import { describeMeasurement, evidenceWorkspace, judge } from './evidence.ts'
import { groupJoints, likeliestState } from './groups.ts'
import { badJointShift, soundShift } from './hypothesis.ts'
import { modelLevels } from './levels.ts'
import { emptyLocateCache, keptOf, type LocateCache } from './locateCache.ts'
import { countedObservations, observe, type Observed } from './observations.ts'
import { estimateOffsets } from './offsets.ts'
import { leastShift, rankJoints } from './rank.ts'

export function basisOf(site: Site): Basis {
  return { drawingRevision: site.drawing.revision, recordLength: site.record.length }
}

/** Groups that an answer lists, and those of them whose evidence is spelt out: the first, and others with some weight. */
export const mostGroups = 12
const groupsWithEvidence = 4
const leastProbabilityForEvidence = 0.005

export interface LocateProgress {
  readonly stage: 'readings' | 'weigh' | 'explain'
  readonly fraction: number
}

/** The likeliest of all hypotheses: what it makes of leads and how well it fits. */
function explain(findings: Omit<Findings, 'offsets'>) {
  const { ranking, measurement, models } = findings
  const n = measurement.observations.length
  const work = evidenceWorkspace(ranking.levels[0].finite.length)
  const best = ranking.joints.length > 0 ? ranking.joints[0] : null
  const bad = best !== null && best.logWeight > ranking.soundLogWeight ? likeliestState(best) : null
  const level = bad?.level ?? ranking.soundLevel
  const shift =
    bad && best
      ? badJointShift(models, level, best.candidate, bad.severity.addedOhm, n)
      : soundShift(models, level, n)
  const judged = judge(ranking.levels[level], measurement, shift, work, { quick: false })
  return estimateOffsets(ranking.levels[level], measurement, shift, judged)
}

function* withoutReadings(
  site: Site,
  prepared: PreparedNetwork,
  observed: Observed,
  cache: LocateCache,
): Generator<number, LocateAnswer> {
  const measurement = describeMeasurement([], [])
  const none = { edge: new Int32Array(0) }
  const coverage = yield* describeCoverage(prepared, none, measurement, keptOf(cache, prepared))
  return {
    basis: basisOf(site),
    headline: 'noReadings',
    nothingBrokenProbability: 1,
    groups: [],
    otherProbability: 0,
    readings: observed.readings.map(({ reading, setAside }) => uncounted(reading, setAside)),
    nullings: [],
    fit: 1,
    coverage: { ...coverage, notReached: coverage.joints, cannotBeSeen: 0, examples: [] },
    notes: prepared.network.notes,
  }
}

/**
 * Ranks what may be bad from the readings of a site: none, or one joint raised or open, with the contact of
 * every reading and the offset of every nulling interval as further unknowns.
 *
 * 1. every reading becomes an observation of a pair, or is set aside with its reason;
 * 2. for each soil level, one solve per pair gives the current through every joint, and with it the exact
 *    effect of any joint on any reading, and the covariance that sound scatter gives the readings;
 * 3. every joint that the readings could show bad is weighed at every severity, contact states summed out;
 * 4. joints that the readings do not tell apart are gathered, and what speaks for each group is listed.
 *
 * A cache that is passed in again spares step 2 for pairs that were read before; the answer is the same without.
 */
export function* locate(
  site: Site,
  prepared: PreparedNetwork,
  cache: LocateCache = emptyLocateCache(),
): Generator<LocateProgress, LocateAnswer> {
  const observed = observe(site, prepared.network)
  const { observations, beforeRepair } = countedObservations(observed, prepared)
  const readingsOf: Observed = {
    ...observed,
    readings: observed.readings.map((item) =>
      beforeRepair.has(item.reading.id) ? { ...item, setAside: 'beforeRepair' } : item,
    ),
  }
  if (!observations.some((o) => o.a !== o.b)) {
    return yield* staged('explain', withoutReadings(site, prepared, readingsOf, cache))
  }

  const measurement = describeMeasurement(observations, observed.intervals)
  const { levels: models, candidates } = yield* staged(
    'readings',
    modelLevels(prepared, observations, measurement.ownSdOhm, leastShift, cache),
  )
  const ranking = yield* staged('weigh', rankJoints(prepared.network, candidates, models, measurement))
  yield { stage: 'explain', fraction: 0 }
  const groups = groupJoints(ranking, measurement, mostGroups)
  const partial = { prepared, observed: readingsOf, measurement, models, candidates, ranking, groups }
  const { offsets, fit } = explain(partial)
  const findings: Findings = { ...partial, offsets }
  yield { stage: 'explain', fraction: 0.3 }

  const nothing = Math.exp(ranking.soundLogWeight - ranking.logTotal)
  const sound = groups.length > 0 ? soundLeaveOuts(findings) : null
  const written: SuspectGroup[] = []
  for (const [k, group] of groups.entries()) {
    yield { stage: 'explain', fraction: 0.3 + (0.4 * k) / groups.length }
    const probability = Math.exp(group.logWeight - ranking.logTotal)
    const spelt = k === 0 || (k < groupsWithEvidence && probability > leastProbabilityForEvidence)
    written.push(writeGroup(findings, group, spelt ? sound : null))
  }
  yield { stage: 'explain', fraction: 0.7 }
  const readings = writeReadings(findings, averageJudgements(findings))
  yield { stage: 'explain', fraction: 0.8 }
  const coverage = yield* staged(
    'explain',
    portion(describeCoverage(prepared, candidates, measurement, keptOf(cache, prepared)), 0.8, 0.2),
  )
  const listed = written.reduce((sum, group) => sum + group.probability, 0)
  return {
    basis: basisOf(site),
    headline: headlineOf(observations.length, fit, nothing, written[0]),
    nothingBrokenProbability: nothing,
    groups: written,
    otherProbability: Math.max(0, 1 - nothing - listed),
    readings,
    nullings: writeNullings(findings),
    fit,
    coverage,
    notes: prepared.network.notes,
  }
}
