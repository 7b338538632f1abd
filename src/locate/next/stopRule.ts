import { evidenceWorkspace, stateReadings, sumStated } from '../evidence.ts'
import type { Posterior } from '../posterior.ts'
import { badJointsOf, joined } from '../sets/setInputs.ts'
import { setShift } from '../sets/setShift.ts'

/** The first group is taken as found from here on, and with any one reading left out still has this much. */
export const foundFrom = 0.95
export const heldFrom = 0.8
/** Sets with less than this share of the likeliest one's chance do not come back when one reading is left out. */
const forgotten = Math.exp(-12)
const mostWeighed = 40

/**
 * The least that is left of a group's probability when any one reading is left out: the likeliest state of every set of
 * its region, nothing bad among them, weighed without that reading,
 *
 *   w_H · p(all but y | H) / p(all | H)
 *
 * O(sets × readings) sums over contact states.
 */
export function* heldProbability(
  { inputs, measurement, sets, groups, trust }: Posterior,
  group: number,
): Generator<number, number> {
  const { network, models, levels } = inputs
  const { joints, region } = groups[group]
  const n = measurement.observations.length
  const work = evidenceWorkspace(levels[0].finite.length)
  const inGroup = new Set(joints.map(({ candidate }) => candidate))
  const { sets: own, candidates } = sets.regions[region]
  const inRegion = new Set(candidates)
  const others = sets.best.members.filter(({ candidate }) => !inRegion.has(candidate))
  const nothing = own.filter((set) => set.candidates.length === 0)
  const near = own.filter(
    (set) => set.candidates.length > 0 && set.probability > forgotten * own[0].probability,
  )
  const weighed = [...nothing, ...near.slice(0, mostWeighed)]
  const held = new Float64Array(n)
  const all = new Float64Array(n)
  for (const [k, { probability, state }] of weighed.entries()) {
    const members = badJointsOf(inputs, joined(state.members, others))
    const stated = stateReadings(
      levels[state.level],
      measurement,
      setShift(network, models, state.level, members),
    )
    const whole = sumStated(stated, work, { quick: false }).logEvidence
    const isSound = state.members.reduce(
      (product, { candidate }, m) => (inGroup.has(candidate) ? product * (1 - state.badShare[m]) : product),
      1,
    )
    for (let p = 0; p < n; p++) {
      const { logEvidence } = sumStated(stated, work, { quick: false, leaveOut: p })
      const weight = probability * Math.exp(trust * (logEvidence - whole))
      all[p] += weight
      held[p] += weight * (1 - isSound)
    }
    yield (k + 1) / weighed.length
  }
  let least = 1
  for (let p = 0; p < n; p++) least = Math.min(least, all[p] > 0 ? held[p] / all[p] : 0)
  return least
}
