import { staged } from '../../base/portion.ts'
import type { Site } from '../../model/schema/site.ts'
import type { PreparedNetwork } from '../../network/prepare.ts'
import { describeMeasurement, type Measurement } from '../evidence.ts'
import { groupJoints, type JointGroup } from '../groups.ts'
import { modelLevels, type LevelModel } from '../levels.ts'
import { mostGroups, type LocateProgress } from '../locate.ts'
import type { LocateCache } from '../locateCache.ts'
import { countedObservations, observe, type Observed } from '../observations.ts'
import { leastShift, rankJoints, type Ranking } from '../rank.ts'

/** What a ranking knows, before it is written as an answer. */
export interface Posterior {
  readonly prepared: PreparedNetwork
  readonly observed: Observed
  readonly measurement: Measurement
  readonly models: readonly LevelModel[]
  readonly ranking: Ranking
  /** The groups of `LocateAnswer`, in the same order. */
  readonly groups: readonly JointGroup[]
}

/** Ranks as `locate` does, step by step; null where no reading counts. */
export function* posteriorOf(
  site: Site,
  prepared: PreparedNetwork,
  cache: LocateCache,
): Generator<LocateProgress, Posterior | null> {
  const { network } = prepared
  const observed = observe(site, network)
  const { observations } = countedObservations(observed, prepared)
  if (!observations.some((o) => o.a !== o.b)) return null
  const measurement = describeMeasurement(observations, observed.intervals)
  const { levels: models, candidates } = yield* staged(
    'readings',
    modelLevels(prepared, observations, measurement.ownSdOhm, leastShift, cache),
  )
  const ranking = yield* staged('weigh', rankJoints(network, candidates, models, measurement))
  yield { stage: 'explain', fraction: 0 }
  const groups = groupJoints(ranking, measurement, mostGroups)
  yield { stage: 'explain', fraction: 0 }
  return { prepared, observed, measurement, models, ranking, groups }
}
