import { assert } from '../base/assert.ts'
import type { SuspectGroup } from '../model/answers.ts'
import { evidenceWorkspace, sumStated, type Measurement } from './evidence.ts'
import type { LevelModel } from './levels.ts'
import type { RankedJoint, Ranking } from './rank.ts'
import { severityFamily, stateSeverity, turnTo, type SeverityFamily } from './severityFamily.ts'

/** Points per stretch of severity, and their own width, when the added ohms are narrowed down. */
const finePoints = 15
const fineLnSd = Math.LN2 / finePoints / 2

type AddedOhm = SuspectGroup['addedOhm']

interface Weighed {
  readonly ranking: Ranking
  readonly measurement: Measurement
  readonly models: readonly LevelModel[]
}

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

/**
 * How much a raised joint has gained: its stretches with any weight to speak of, each divided into finer ones
 * and weighed again, so that a sharp instrument gives a sharp answer.
 */
export function narrowedAddedOhm({ ranking, measurement, models }: Weighed, joint: RankedJoint): AddedOhm {
  const raised = joint.states.filter(({ severity }) => severity.addedOhm !== Infinity)
  if (raised.length === 0) return null
  const families = new Map<number, SeverityFamily>()
  const familyAt = (at: number): SeverityFamily => {
    const known = families.get(at) ?? severityFamily(models, at, ranking.levels[at], measurement)
    families.set(at, known)
    turnTo(known, joint.candidate)
    return known
  }
  const work = evidenceWorkspace(ranking.levels[0].finite.length)
  const most = Math.max(...raised.map((state) => state.logWeight))
  const points = raised
    .filter((state) => state.logWeight > most - 5)
    .flatMap(({ severity, level }) =>
      Array.from({ length: finePoints }, (_, k) => {
        const addedOhm = severity.addedOhm * 2 ** ((k + 0.5) / finePoints - 0.5)
        const stated = stateSeverity(familyAt(level), addedOhm, fineLnSd)
        assert(stated !== null, 'a joint that is raised by some ohms leaves a path')
        const { logEvidence } = sumStated(stated, work, { quick: true })
        return { addedOhm, log: logEvidence + models[level].logWeight }
      }),
    )
  const top = Math.max(...points.map((point) => point.log))
  return quantiles(points.map(({ addedOhm, log }) => ({ addedOhm, weight: Math.exp(log - top) })))
}

/** The same as the stretches have it, for groups of little weight. */
export function statesAddedOhm(joint: RankedJoint): AddedOhm {
  const raised = joint.states.filter(({ severity }) => severity.addedOhm !== Infinity)
  if (raised.length === 0) return null
  const top = Math.max(...raised.map(({ logWeight }) => logWeight))
  return quantiles(
    raised.map(({ severity, logWeight }) => ({
      addedOhm: severity.addedOhm,
      weight: Math.exp(logWeight - top),
    })),
  )
}
