import { portion, staged } from '../base/portion.ts'
import type { Basis, LocateAnswer, SuspectGroup } from '../model/answers.ts'
import type { Site } from '../model/schema/site.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import {
  averageJudgements,
  evidenceBook,
  headlineOf,
  uncounted,
  writeGroup,
  writeNullings,
  writeReadings,
} from './answer.ts'
import { describeCoverage } from './coverage.ts'
import { describeMeasurement } from './evidence.ts'
import { emptyLocateCache, keptOf, type LocateCache } from './locateCache.ts'
import type { Observed } from './observations.ts'
import { observedIn, posteriorOf, type LocateProgress } from './posterior.ts'
import { supported } from './trust.ts'

export function basisOf(site: Site): Basis {
  return { drawingRevision: site.drawing.revision, recordLength: site.record.length }
}

/** Groups whose evidence is spelt out: the first, and others with some weight. */
const groupsWithEvidence = 4
const leastProbabilityForEvidence = 0.005
/** Beyond the first few only those that may well be bad. */
const mostWithEvidence = 20
const likelyFrom = 0.3

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
    badCount: [1],
    unexplored: 0,
    readings: observed.readings.map(({ reading, setAside }) => uncounted(reading, setAside)),
    nullings: [],
    levels: [],
    fit: 1,
    trust: 1,
    coverage: { ...coverage, notReached: coverage.joints, cannotBeSeen: 0, examples: [] },
    notes: prepared.network.notes,
  }
}

/**
 * What may be bad from the readings of a site: none, or any number of joints raised or open, with the contact of
 * every reading and the offset of every nulling interval as further unknowns.
 *
 * 1. every reading becomes an observation of a pair, or is set aside with its reason;
 * 2. for each soil level, one solve per pair gives the current through every joint, and with it the exact
 *    effect of any joint on any reading, and the covariance that sound scatter gives the readings;
 * 3. every joint that the readings could show bad is weighed by itself at every severity, contact states summed out;
 * 4. sets of up to four per independent region are searched best-first, beside what is likeliest elsewhere;
 * 5. joints that the readings do not tell apart are gathered, and what speaks for each group is listed.
 *
 * A cache that is passed in again spares step 2 for pairs that were read before; the answer is the same without.
 */
export function* locate(
  site: Site,
  prepared: PreparedNetwork,
  cache: LocateCache = emptyLocateCache(),
): Generator<LocateProgress, LocateAnswer> {
  const posterior = yield* posteriorOf(site, prepared, cache)
  if (!posterior) {
    const { observed } = observedIn(site, prepared)
    return yield* staged('explain', withoutReadings(site, prepared, observed, cache))
  }
  const { groups, measurement, candidates, sets, fit, trust } = posterior
  const book = evidenceBook(posterior)
  const written: SuspectGroup[] = []
  for (const [k, group] of groups.entries()) {
    yield { stage: 'explain', fraction: 0.4 + (0.3 * k) / groups.length }
    const spelt =
      k === 0 ||
      (k < groupsWithEvidence && group.probability > leastProbabilityForEvidence) ||
      (k < mostWithEvidence && group.probability > likelyFrom)
    written.push(writeGroup(posterior, group, spelt ? book : null))
  }
  yield { stage: 'explain', fraction: 0.7 }
  const readings = writeReadings(
    posterior,
    yield* staged('explain', portion(averageJudgements(posterior), 0.7, 0.1)),
  )
  yield { stage: 'explain', fraction: 0.8 }
  const coverage = yield* staged(
    'explain',
    portion(describeCoverage(prepared, candidates, measurement, keptOf(cache, prepared)), 0.8, 0.2),
  )
  const listed = new Set(groups.flatMap(({ joints }) => joints.map(({ candidate }) => candidate)))
  const nothing = supported(sets.nothingProbability * (1 - sets.unexplored))
  return {
    basis: basisOf(site),
    headline: headlineOf(measurement.observations.length, fit, nothing, written),
    nothingBrokenProbability: nothing,
    groups: written,
    otherProbability:
      1 -
      sets.joints.reduce(
        (none, { candidate, probability }) => (listed.has(candidate) ? none : none * (1 - probability)),
        1 - sets.unexplored,
      ),
    badCount: [...sets.badCount],
    unexplored: sets.unexplored,
    readings,
    nullings: writeNullings(posterior),
    levels: posterior.levels,
    fit,
    trust,
    coverage,
    notes: prepared.network.notes,
  }
}
