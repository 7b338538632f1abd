import { logAdd } from '../../base/logSum.ts'
import { crowdingAt, type Batches } from '../batches.ts'
import { leastShift, type Choice } from '../choices.ts'
import { evidenceWorkspace, judge, type EvidenceWorkspace } from '../evidence.ts'
import type { Measurement, PreparedLevel } from '../evidence.ts'
import { dependsOnSoil } from '../hypothesis.ts'
import type { Candidates, LevelModel } from '../levelModel.ts'
import { setRisesOhm, setShift, type BadJoint } from './setShift.ts'
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
  readonly choices: readonly (readonly Choice[])[]
  readonly batches: Batches
  readonly parting: Parting
}

/** Candidates that the readings show only together with another one. */
export interface Parting {
  /** 1 for each of them. */
  readonly isOnlyTogether: Uint8Array
  /** Pairs of candidates that part high readings. */
  readonly pairs: readonly (readonly [number, number])[]
}

export function noParting(candidates: number): Parting {
  return { isOnlyTogether: new Uint8Array(candidates), pairs: [] }
}

export function withMember(members: MemberList, member: Member): MemberList {
  return [...members, member].sort((a, b) => a.candidate - b.candidate)
}

export function joined(some: MemberList, others: MemberList): MemberList {
  return others.length === 0 ? some : [...some, ...others].sort((a, b) => a.candidate - b.candidate)
}

export const stateKey = (members: MemberList): string =>
  members.map(({ candidate, choice }) => `${candidate}:${choice}`).join(' ')

export const membersOfKey = (key: string): MemberList =>
  key.split(' ').map((one) => {
    const [candidate, choice] = one.split(':').map(Number)
    return { candidate, choice }
  })

export const setKey = (members: MemberList): string => members.map(({ candidate }) => candidate).join(' ')

export function badJointsOf({ choices }: SetInputs, members: MemberList): BadJoint[] {
  return members.map(({ candidate, choice }) => ({
    candidate,
    addedOhm: choices[candidate][choice].addedOhm,
  }))
}

/** ln of the catalogue's odds of all members. */
export function logOddsOf({ choices }: SetInputs, members: MemberList): number {
  return members.reduce((sum, { candidate, choice }) => sum + choices[candidate][choice].logPrior, 0)
}

/** The same with what so many bad joints have in common, wherever they are: the prior of the search. */
function logPriorOf(inputs: SetInputs, members: MemberList): number {
  return logOddsOf(inputs, members) + crowdingAt(inputs.batches, badAmong(inputs, members))
}

/** How many of the members are likelier bad than sound and unlucky. */
export function badAmong({ choices }: SetInputs, members: MemberList): number {
  return members.filter(({ candidate, choice }) => choices[candidate][choice].badShare > 0.5).length
}

/** What a state of the whole site weighs. */
export interface StateWeight {
  /** ln of the density of the readings, soil levels summed. */
  readonly logEvidence: number
  /** The same with the prior of the search. */
  readonly logWeight: number
  /** The soil level that explains the readings best. */
  readonly level: number
}

/** Weighs states of the whole site, each once. */
export interface Weigher {
  readonly inputs: SetInputs
  readonly work: EvidenceWorkspace
  readonly known: Map<string, StateWeight>
  /** How many were judged anew, and what that took: readings² times columns of uncertainty. */
  judged: number
  effort: number
}

export function weigherOf(inputs: SetInputs): Weigher {
  const work = evidenceWorkspace(inputs.levels[0].finite.length)
  return { inputs, work, known: new Map(), judged: 0, effort: 0 }
}

/** As the ranking weighs one bad joint: summed over contact states, and over soil levels where soil matters. */
export function weighState(weigher: Weigher, members: MemberList): StateWeight {
  const known = weigher.known.get(stateKey(members))
  if (known) return known
  weigher.judged++
  const { logEvidence, level } = judgeState(weigher, members)
  return enter(weigher, members, logEvidence, level)
}

/** Takes note of what a state weighs. */
export function enter(
  weigher: Weigher,
  members: MemberList,
  logEvidence: number,
  level: number,
): StateWeight {
  const weight = { logEvidence, logWeight: logEvidence + logPriorOf(weigher.inputs, members), level }
  weigher.known.set(stateKey(members), weight)
  return weight
}

/**
 * Whether the readings would be others without any of those members that show only together: by two standard deviations,
 * all taken together. A state in which one of them hides behind the rest is no state that readings can speak of.
 */
function isShown(
  { network, models, centre, parting, measurement }: SetInputs,
  bad: readonly BadJoint[],
  riseOhm: Float64Array,
): boolean {
  return bad.every((joint) => {
    if (parting.isOnlyTogether[joint.candidate] === 0) return true
    const without = setRisesOhm(
      network,
      models,
      centre,
      bad.filter((other) => other !== joint),
    )
    let square = 0
    riseOhm.forEach((rise, p) => {
      if (rise !== without[p]) square += ((rise - without[p]) / measurement.ownSdOhm[p]) ** 2
    })
    return Math.sqrt(square) >= leastShift
  })
}

function judgeState(weigher: Weigher, members: MemberList) {
  const { inputs, work } = weigher
  const { network, models, levels, centre, measurement } = inputs
  const bad = badJointsOf(inputs, members)
  const shift = setShift(network, models, centre, bad)
  if (!isShown(inputs, bad, shift.riseOhm)) return { logEvidence: -Infinity, level: centre }
  // soil, gain, and for each member its severity and the path beside it
  const effort = levels[centre].finite.length ** 2 * (4 + 2 * members.length)
  weigher.effort += effort
  const middle = judge(levels[centre], measurement, shift, work, { quick: false })
  if (!dependsOnSoil(shift, middle.sdOhm)) return { logEvidence: middle.logEvidence, level: centre }
  weigher.effort += effort * (levels.length - 1)
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
  return { logEvidence: log, level: bestLevel }
}
