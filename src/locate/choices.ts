import { logAdd } from '../base/logSum.ts'
import { normalCdf } from '../base/normal.ts'
import type { Network } from '../network/compile.ts'
import { levelLnSd } from '../reading/assumptions.ts'
import type { Measurement } from './evidence.ts'
import { riseInSds } from './hypothesis.ts'
import type { Candidates, LevelModel } from './levelModel.ts'
import type { LookOdds } from './lookOdds.ts'
import { severitiesOf, type Severity } from './severities.ts'

/**
 * A severity that moves the readings, taken together, by less than this many of their own standard deviations
 * is not something these readings can show: it is left out of the posterior and counted under coverage.
 */
export const leastShift = 2

/** A severity of a candidate, and the share of its prior that is of bad joints, not of sound ones that are unlucky. */
export interface Choice extends Severity {
  readonly badShare: number
}

/** Chance that a sound joint has gained ohms within a stretch of severities beyond what the readings' spread has in it. */
export type SoundTail = (network: Network, edge: number, addedOhm: number) => number

export const noTail: SoundTail = () => 0

const halfStretch = Math.SQRT2

/**
 * The scatter of sound joints is log-normal; the covariance of the readings has a normal one of the same mean and variance
 * in its place, whose tail is far too thin. What is missing: the log-normal's share of the stretch less the normal's,
 * with the level of the joint's kind as part of the spread.
 */
export const soundTail: SoundTail = (network, edge, addedOhm) => {
  if (addedOhm === Infinity) return 0
  const { lnSpread, medianOhm, fixedOhm, kind, kinds } = network
  const spread = Math.hypot(lnSpread[edge], levelLnSd(kinds[kind[edge]].id))
  const scattering = medianOhm[edge] - fixedOhm[edge]
  if (!(spread > 0 && scattering > 0)) return 0
  const low = addedOhm / halfStretch
  const high = addedOhm * halfStretch
  const beyond = (ohm: number) => normalCdf(-Math.log1p(ohm / scattering) / spread)
  const square = Math.exp(spread * spread)
  const mean = scattering * (Math.sqrt(square) - 1)
  const sd = scattering * Math.sqrt(square * (square - 1))
  const normalBeyond = (ohm: number) => normalCdf((mean - ohm) / sd)
  return Math.max(0, beyond(low) - beyond(high) - (normalBeyond(low) - normalBeyond(high)))
}

/**
 * Severities of each candidate that by themselves move the readings enough to be seen; `logPrior` has in it the odds of
 * being bad, by the catalogue and by what was found when someone looked at the joint, and those of a sound joint that
 * has so many ohms more than most. All severities of a joint that a look found something wrong with: what the readings
 * cannot show was seen. All of those in `together`, by edge, which only show beside another. The same states of a joint
 * count whatever else is bad.
 */
export function visibleChoices(
  network: Network,
  candidates: Candidates,
  centre: LevelModel,
  measurement: Measurement,
  looks: LookOdds,
  together: ReadonlySet<number> = new Set(),
  tail: SoundTail = soundTail,
): readonly (readonly Choice[])[] {
  const { ownSdOhm } = measurement
  const known = new Map<number, readonly Severity[]>()
  const tails = new Map<string, number>()
  const tailAt = (edge: number, addedOhm: number): number => {
    const key = `${network.kind[edge]} ${network.medianOhm[edge]} ${network.fixedOhm[edge]} ${addedOhm}`
    const before = tails.get(key) ?? tail(network, edge, addedOhm)
    tails.set(key, before)
    return before
  }
  return Array.from(candidates.edge, (edge, k) => {
    const inSds = riseInSds(centre, k, ownSdOhm)
    const rate = network.defectRate[edge]
    const odds = Math.log(rate / (1 - rate))
    const median = network.medianOhm[edge]
    const all = known.get(median) ?? severitiesOf(median)
    known.set(median, all)
    const look = looks.get(edge)
    const isFound = look !== undefined && look.logRaised > 0
    return all
      .filter(({ addedOhm }) => isFound || together.has(edge) || inSds(addedOhm) >= leastShift)
      .map(({ addedOhm, logPrior }): Choice => {
        const seen = look ? (addedOhm === Infinity ? look.logOpen : look.logRaised) : 0
        const bad = logPrior + odds + seen
        const sound = tailAt(edge, addedOhm)
        const all = sound > 0 ? logAdd(bad, Math.log(sound)) : bad
        return { addedOhm, logPrior: all, badShare: Math.exp(bad - all) }
      })
  })
}
