import type { SuspectGroup } from '../model/answers.ts'
import { evidenceWorkspace, stateReadings, sumStated } from './evidence.ts'
import type { SiteState } from './groups.ts'
import type { Posterior } from './posterior.ts'
import { badJointsOf } from './sets/setInputs.ts'
import type { JointPosterior } from './sets/setRanking.ts'
import { setShift } from './sets/setShift.ts'

/** Points per stretch of severity, and their own width, when the added ohms are narrowed down. */
const finePoints = 15
const fineLnSd = Math.LN2 / finePoints / 2
/** Stretches with less than this of the likeliest one's chance are not looked into. */
const leastShare = Math.exp(-5)

type AddedOhm = SuspectGroup['addedOhm']

/** Added ohms below which 5, 50 and 95 % of the weight lies. */
function quantiles(points: readonly { readonly addedOhm: number; readonly weight: number }[]): AddedOhm {
  const total = points.reduce((sum, point) => sum + point.weight, 0)
  const below = (share: number): number => {
    let sum = 0
    for (const point of points) {
      sum += point.weight
      if (sum >= share * total) return point.addedOhm
    }
    return points[points.length - 1].addedOhm
  }
  return { low: below(0.05), middle: below(0.5), high: below(0.95) }
}

function raisedStates({ severities }: JointPosterior) {
  return severities.filter(({ addedOhm, probability }) => addedOhm !== Infinity && probability > 0)
}

/**
 * How much a raised joint has gained: its stretches with any weight to speak of, each divided into finer ones
 * and weighed again beside what else is bad in the state, so that a sharp instrument gives a sharp answer.
 */
export function narrowedAddedOhm(
  { inputs, measurement }: Posterior,
  joint: JointPosterior,
  { members, level }: SiteState,
): AddedOhm {
  const raised = raisedStates(joint)
  if (raised.length === 0) return null
  const { network, models, levels } = inputs
  const others = badJointsOf(inputs, members).filter(({ candidate }) => candidate !== joint.candidate)
  const work = evidenceWorkspace(levels[level].finite.length)
  const most = Math.max(...raised.map(({ probability }) => probability))
  const points = raised
    .filter(({ probability }) => probability > leastShare * most)
    .flatMap(({ addedOhm: middle }) =>
      Array.from({ length: finePoints }, (_, k) => {
        const addedOhm = middle * 2 ** ((k + 0.5) / finePoints - 0.5)
        const bad = [...others, { candidate: joint.candidate, addedOhm }].sort(
          (a, b) => a.candidate - b.candidate,
        )
        const stated = stateReadings(
          levels[level],
          measurement,
          setShift(network, models, level, bad, fineLnSd),
        )
        return { addedOhm, log: sumStated(stated, work, { quick: true }).logEvidence }
      }),
    )
  const top = Math.max(...points.map((point) => point.log))
  return quantiles(points.map(({ addedOhm, log }) => ({ addedOhm, weight: Math.exp(log - top) })))
}

/** The same as the stretches have it, for groups of little weight. */
export function statesAddedOhm(joint: JointPosterior): AddedOhm {
  const raised = raisedStates(joint)
  if (raised.length === 0) return null
  return quantiles(raised.map(({ addedOhm, probability }) => ({ addedOhm, weight: probability })))
}
