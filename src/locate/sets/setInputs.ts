import { logAdd } from '../../base/logSum.ts'
import type { Network } from '../../network/compile.ts'
import { riseOhm } from '../../network/jointSweep.ts'
import { evidenceWorkspace, judge, type EvidenceWorkspace } from '../evidence.ts'
import type { Measurement, PreparedLevel } from '../evidence.ts'
import type { Candidates, LevelModel } from '../levels.ts'
import { leastShift } from '../rank.ts'
import { severitiesOf, type Severity } from '../severities.ts'
import { setShift, type BadJoint } from './setShift.ts'
import type { SetNetwork } from './setNetwork.ts'

/** One candidate of a set, and which of its severities it has. */
export interface Member {
  readonly candidate: number
  readonly choice: number
}

/** Members by ascending candidate: the same set is the same list. */
export type MemberList = readonly Member[]

export interface SetInputs {
  readonly network: SetNetwork
  readonly candidates: Candidates
  readonly models: readonly LevelModel[]
  readonly levels: readonly PreparedLevel[]
  /** The level of the stated soil. */
  readonly centre: number
  readonly measurement: Measurement
  /** Per candidate: severities that the readings can show, `logPrior` with the odds of being bad in it. */
  readonly choices: readonly (readonly Severity[])[]
}

/**
 * Severities of each candidate that by themselves move the readings enough to be seen, as in the ranking of single
 * joints: the same states of a joint count whatever else is bad.
 */
export function visibleChoices(
  network: Network,
  candidates: Candidates,
  centre: LevelModel,
  measurement: Measurement,
): readonly (readonly Severity[])[] {
  const { ownSdOhm } = measurement
  const n = ownSdOhm.length
  return Array.from(candidates.edge, (edge, k) => {
    let square = 0
    for (let p = 0; p < n; p++) square += (centre.squared[k * n + p] / ownSdOhm[p]) ** 2
    // all readings rise along one direction: by i² for each ohm that the joint and the path beside it gain
    const perOhm = Math.sqrt(square)
    const rate = network.defectRate[edge]
    const odds = Math.log(rate / (1 - rate))
    return severitiesOf(network.medianOhm[edge])
      .filter(({ addedOhm }) => riseOhm(perOhm, centre.loopS[k], addedOhm) >= leastShift)
      .map(({ addedOhm, logPrior }) => ({ addedOhm, logPrior: logPrior + odds }))
  })
}

export function withMember(members: MemberList, member: Member): MemberList {
  return [...members, member].sort((a, b) => a.candidate - b.candidate)
}

export function joined(some: MemberList, others: MemberList): MemberList {
  return others.length === 0 ? some : [...some, ...others].sort((a, b) => a.candidate - b.candidate)
}

export const stateKey = (members: MemberList): string =>
  members.map(({ candidate, choice }) => `${candidate}:${choice}`).join(' ')

export const setKey = (members: MemberList): string => members.map(({ candidate }) => candidate).join(' ')

export function badJointsOf({ choices }: SetInputs, members: MemberList): BadJoint[] {
  return members.map(({ candidate, choice }) => ({
    candidate,
    addedOhm: choices[candidate][choice].addedOhm,
  }))
}

export function logPriorOf({ choices }: SetInputs, members: MemberList): number {
  return members.reduce((sum, { candidate, choice }) => sum + choices[candidate][choice].logPrior, 0)
}

/** ln of prior odds times evidence, soil levels summed, and the level that explains the readings best. */
export interface StateWeight {
  readonly logWeight: number
  readonly level: number
}

/** Weighs states of the whole site, each once. */
export interface Weigher {
  readonly inputs: SetInputs
  readonly work: EvidenceWorkspace
  readonly known: Map<string, StateWeight>
  /** How many were judged anew. */
  judged: number
}

export function weigherOf(inputs: SetInputs): Weigher {
  const work = evidenceWorkspace(inputs.levels[0].finite.length)
  return { inputs, work, known: new Map(), judged: 0 }
}

/** As the ranking weighs one bad joint: summed over contact states, and over soil levels where soil matters. */
export function weighState(weigher: Weigher, members: MemberList): StateWeight {
  const key = stateKey(members)
  const known = weigher.known.get(key)
  if (known) return known
  const weight = judgeState(weigher, members)
  weigher.known.set(key, weight)
  weigher.judged++
  return weight
}

/** Below this share of a reading's own uncertainty soil does not matter to it. */
const soilMatters = 0.05

function dependsOnSoil(soilColumn: Float64Array, sdOhm: Float64Array): boolean {
  return soilColumn.some((x, p) => Math.abs(x) > soilMatters * sdOhm[p])
}

function judgeState({ inputs, work }: Weigher, members: MemberList): StateWeight {
  const { network, models, levels, centre, measurement } = inputs
  const bad = badJointsOf(inputs, members)
  const prior = logPriorOf(inputs, members)
  const shift = setShift(network, models, centre, bad)
  const middle = judge(levels[centre], measurement, shift, work, { quick: false })
  if (!dependsOnSoil(shift.columns[0], middle.sdOhm))
    return { logWeight: prior + middle.logEvidence, level: centre }
  let log = -Infinity
  let best = -Infinity
  let bestLevel = centre
  levels.forEach((level, at) => {
    const judged =
      at === centre
        ? middle
        : judge(level, measurement, setShift(network, models, at, bad), work, { quick: false })
    const weight = models[at].logWeight + judged.logEvidence
    log = logAdd(log, weight)
    if (weight > best) {
      best = weight
      bestLevel = at
    }
  })
  return { logWeight: prior + log, level: bestLevel }
}
