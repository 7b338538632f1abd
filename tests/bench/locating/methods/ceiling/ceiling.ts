import { logSumExp } from '../../../../../src/base/logSum.ts'
import { randomStream, type RandomStream } from '../../../../../src/base/random.ts'
import { beliefFrom, type Belief } from '../../belief.ts'
import { assumed } from '../../generator/assumed.ts'
import { leastAdded } from '../../generator/drawOhms.ts'
import type { Scenario } from '../../generator/drawScenario.ts'
import { nodeOf } from '../../generator/solveOhms.ts'
import type { TypedSite } from '../../typedSite.ts'
import { visibleAmong } from '../../visibility.ts'
import { readingsLikelihood, recordedReadings, type Recorded } from './readingsLikelihood.ts'
import { sampleNetwork, type SampledNetwork } from './sampledNetwork.ts'
import { addSetMasses, type Guide, type ProposedSeverity } from './setSampler.ts'

export interface CeilingEffort {
  readonly networks: number
  readonly raisedDraws: number
  readonly setDraws: number
  readonly followed: number
  readonly batches: number
}

export const ceilingEffort: CeilingEffort = {
  networks: 24,
  raisedDraws: 6,
  setDraws: 200,
  followed: 4,
  batches: 6,
}

export interface CeilingBelief {
  readonly belief: Belief
  /** The same from all networks but those of one batch, for each batch. */
  readonly without: readonly Belief[]
}

const countPrior = [
  assumed.healthyShare,
  ...Array.from({ length: assumed.mostFaults }, () => (1 - assumed.healthyShare) / assumed.mostFaults),
]

/** Severities that would explain a reading each, with some width, beside even draws: where the mass may lie. */
function severitiesFor(
  scenario: Scenario,
  { readings }: Recorded,
  sampled: SampledNetwork,
  draws: number,
): (edge: number, random: RandomStream) => ProposedSeverity[] {
  const { network } = scenario.possible
  return (edge, random) => {
    const from = Math.log(leastAdded(network, edge))
    const to = Math.log(assumed.mostAddedOhm)
    const i = sampled.currents(edge)
    const loopS = sampled.loopS(edge)
    const wanted: { ln: number; sd: number }[] = []
    for (const [p, { shownOhm }] of readings.entries()) {
      const squared = i[p] * i[p]
      const rise = shownOhm - sampled.soundOhm[p]
      if (squared < 1e-4 || shownOhm === Infinity || rise < 0.02) continue
      const added = rise / (squared - rise * loopS)
      if (!(added > 0)) continue
      wanted.push({ ln: Math.log(added), sd: 0.02 + Math.min(1, 0.03 / rise) })
    }
    const even = wanted.length > 0 ? 0.4 : 1
    const density = (x: number) =>
      even / (to - from) +
      wanted.reduce((sum, { ln, sd }) => {
        const z = (x - ln) / sd
        return sum + ((1 - even) / wanted.length) * (Math.exp(-0.5 * z * z) / (sd * Math.sqrt(2 * Math.PI)))
      }, 0)
    const raised = Array.from({ length: draws }, (_, k): ProposedSeverity => {
      const near = wanted[random.integer(Math.max(1, wanted.length))]
      const ln =
        wanted.length === 0 || random.uniform() < even
          ? from + ((to - from) * (k + random.uniform())) / draws
          : near.ln + near.sd * random.normal()
      const inside = ln >= from && ln <= to
      const prior = inside ? (1 - assumed.openShare) / (to - from) : 0
      // the list's mean counts, and the open joint is one of its members
      return { addedOhm: Math.exp(ln), weight: ((prior / density(ln)) * (draws + 1)) / draws }
    })
    return [...raised, { addedOhm: Infinity, weight: assumed.openShare * (draws + 1) }]
  }
}

/**
 * The belief of someone who knows all of the generator's figures: exact Bayes but for sampling. Networks are
 * drawn as the generator draws them; instrument gain with each; leads, contacts, false lows, swapped labels and
 * broken leads are summed out; sets of bad joints as in `addSetMasses`. Two-wire readings only.
 */
export function ceiling(scenario: Scenario, typed: TypedSite, effort: CeilingEffort): CeilingBelief {
  const random = randomStream(scenario.seed ^ 0x5bd1e995)
  const { possible, shares } = scenario
  const { network } = possible
  const recorded = recordedReadings(scenario.site)
  const pairs = recorded.readings.map(({ from, to }) => [nodeOf(network, from), nodeOf(network, to)] as const)
  const drawn = possible.address.map((address) => typed.edgeOf.get(address) ?? -1)
  const visibleOf = visibleAmong(typed)
  const guide: Guide = { second: null }
  const each = Array.from({ length: effort.networks }, () => {
    const sampled = sampleNetwork(possible, pairs, random)
    const gain = 1 + recorded.kit.gainError * (2 * random.uniform() - 1)
    const likelihood = readingsLikelihood(recorded, sampled.soundOhm, gain)
    let nothing = 0
    const joint = new Float64Array(typed.address.length)
    const bad = new Float64Array(typed.address.length)
    addSetMasses(
      {
        countPrior,
        shares,
        severitiesOf: severitiesFor(scenario, recorded, sampled, effort.raisedDraws),
        likelihood: (faults) => (faults.length === 0 ? 1 : likelihood.ratio(sampled.withFaults(faults))),
        count(faults, mass) {
          if (mass === 0) return
          const seen = visibleOf(faults.map(({ edge, addedOhm }) => ({ edge: drawn[edge], addedOhm })))
          if (seen.length === 0) nothing += mass
          for (const edge of seen) {
            joint[edge] += mass / seen.length
            bad[edge] += mass
          }
        },
      },
      effort,
      random,
      guide,
    )
    return { log: likelihood.soundLog, nothing, joint, bad }
  })
  const top = logSumExp(each.map(({ log }) => log))
  const together = (used: (k: number) => boolean) => {
    let nothing = 0
    const joint = new Float64Array(typed.address.length)
    const bad = new Float64Array(typed.address.length)
    for (const [k, one] of each.entries()) {
      if (!used(k)) continue
      const scale = Math.exp(one.log - top)
      nothing += scale * one.nothing
      for (let e = 0; e < joint.length; e++) {
        joint[e] += scale * one.joint[e]
        bad[e] += scale * one.bad[e]
      }
    }
    return beliefFrom(nothing, joint, bad)
  }
  return {
    belief: together(() => true),
    without: Array.from({ length: effort.batches }, (_, b) => together((k) => k % effort.batches !== b)),
  }
}

/** Standard error of a figure by leaving out one batch at a time (J. W. Tukey 1958). */
export function jackknifeError(figures: readonly number[]): number {
  const n = figures.length
  const mean = figures.reduce((a, b) => a + b, 0) / n
  return Math.sqrt((figures.reduce((sum, x) => sum + (x - mean) ** 2, 0) * (n - 1)) / n)
}
