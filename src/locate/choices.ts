import type { Network } from '../network/compile.ts'
import { riseOhm } from '../network/jointSweep.ts'
import type { Measurement } from './evidence.ts'
import type { Candidates, LevelModel } from './levels.ts'
import type { LookOdds } from './lookOdds.ts'
import { severitiesOf, type Severity } from './severities.ts'

/**
 * A severity that moves the readings, taken together, by less than this many of their own standard deviations
 * is not something these readings can show: it is left out of the posterior and counted under coverage.
 */
export const leastShift = 2

/**
 * Severities of each candidate that by themselves move the readings enough to be seen; `logPrior` has in it the odds of
 * being bad, by the catalogue and by what was found when someone looked at the joint. All severities of a joint that a
 * look found something wrong with: what the readings cannot show was seen. The same states of a joint count whatever
 * else is bad.
 */
export function visibleChoices(
  network: Network,
  candidates: Candidates,
  centre: LevelModel,
  measurement: Measurement,
  looks: LookOdds,
): readonly (readonly Severity[])[] {
  const { ownSdOhm } = measurement
  const n = ownSdOhm.length
  const known = new Map<number, readonly Severity[]>()
  return Array.from(candidates.edge, (edge, k) => {
    let square = 0
    for (let p = 0; p < n; p++) square += (centre.squared[k * n + p] / ownSdOhm[p]) ** 2
    // all readings rise along one direction: by i² for each ohm that the joint and the path beside it gain
    const perOhm = Math.sqrt(square)
    const rate = network.defectRate[edge]
    const odds = Math.log(rate / (1 - rate))
    const median = network.medianOhm[edge]
    const all = known.get(median) ?? severitiesOf(median)
    known.set(median, all)
    const look = looks.get(edge)
    const isFound = look !== undefined && look.logRaised > 0
    return all
      .filter(({ addedOhm }) => isFound || riseOhm(perOhm, centre.loopS[k], addedOhm) >= leastShift)
      .map(({ addedOhm, logPrior }): Severity => {
        const seen = look ? (addedOhm === Infinity ? look.logOpen : look.logRaised) : 0
        return { addedOhm, logPrior: logPrior + odds + seen }
      })
  })
}
