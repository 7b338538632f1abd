import { evidenceWorkspace, stateReadings, sumStated } from '../evidence.ts'
import { likeliestState } from '../groups.ts'
import { badJointShift, soundShift } from '../hypothesis.ts'
import type { Posterior } from './posterior.ts'

/** The first group is taken as found from here on, and with any one reading left out still has this much. */
export const foundFrom = 0.95
export const heldFrom = 0.8
/** Joints further below the best, in nats, do not come back when one reading is left out. */
const forgottenNats = 12
const mostWeighed = 40

/**
 * The least that is left of the first group's probability when any one reading is left out: every joint near the best
 * in its likeliest state, and nothing bad, weighed without that reading,
 *
 *   w_H · p(all but y | H) / p(all | H)
 *
 * O(joints × readings) sums over contact states.
 */
export function* heldProbability({
  ranking,
  measurement,
  models,
  groups,
}: Posterior): Generator<number, number> {
  const n = measurement.observations.length
  const work = evidenceWorkspace(ranking.levels[0].finite.length)
  const inFirst = new Set(groups[0].joints.map(({ candidate }) => candidate))
  const near = ranking.joints
    .filter(({ logWeight }) => logWeight > groups[0].logWeight - forgottenNats)
    .slice(0, mostWeighed)
  const first = new Float64Array(n)
  const all = new Float64Array(n)
  for (let k = -1; k < near.length; k++) {
    const joint = k < 0 ? null : near[k]
    const state = joint && likeliestState(joint)
    const level = state?.level ?? ranking.soundLevel
    const shift =
      joint && state
        ? badJointShift(models, level, joint.candidate, state.severity.addedOhm, n)
        : soundShift(models, level, n)
    const stated = stateReadings(ranking.levels[level], measurement, shift)
    const whole = sumStated(stated, work, { quick: false }).logEvidence
    const logWeight = joint?.logWeight ?? ranking.soundLogWeight
    for (let p = 0; p < n; p++) {
      const { logEvidence } = sumStated(stated, work, { quick: false, leaveOut: p })
      const weight = Math.exp(logWeight - ranking.logTotal + logEvidence - whole)
      all[p] += weight
      if (joint && inFirst.has(joint.candidate)) first[p] += weight
    }
    yield (k + 2) / (near.length + 1)
  }
  let least = 1
  for (let p = 0; p < n; p++) least = Math.min(least, all[p] > 0 ? first[p] / all[p] : 0)
  return least
}
