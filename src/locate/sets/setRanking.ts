import { logAdd, logSumExp } from '../../base/logSum.ts'
import { factorAt } from '../batches.ts'
import type { RegionWeights, SetState } from './searchRegion.ts'
import { logOddsOf, setKey, type MemberList, type SetInputs } from './setInputs.ts'

/** What a search has weighed. */
export interface SetSearch {
  readonly found: readonly RegionWeights[]
  /** The likeliest state of the whole site. */
  readonly best: SetState
  readonly judged: number
}

/** What sets of bad joints make of one candidate. */
export interface JointPosterior {
  readonly candidate: number
  readonly edge: number
  /** Chance that it is bad, alone or among others: all sets that have it (posterior inclusion probability). */
  readonly probability: number
  readonly openProbability: number
  readonly raisedProbability: number
  /** What states that were only screened are thought to add to each, in parts of what was weighed. */
  readonly screenedOpen: number
  readonly screenedRaised: number
  /** Per severity that was weighed. */
  readonly severities: readonly { readonly addedOhm: number; readonly probability: number }[]
}

/** One state of a region, and its chance. */
export interface StateShare {
  readonly members: MemberList
  /** The soil level that explains the readings best under it. */
  readonly level: number
  readonly probability: number
  /** Per member: chance that it is bad and not sound with more ohms than most. */
  readonly badShare: Float64Array
}

export interface SetShare {
  readonly candidates: readonly number[]
  readonly edges: readonly number[]
  /** Within its region. */
  readonly probability: number
  /** Its likeliest state. */
  readonly state: StateShare
}

/** A part of the site whose candidates share readings with each other and with no other candidate. */
export interface RegionRanking {
  readonly candidates: readonly number[]
  /** Chance that no joint is bad, whatever sound ones are unlucky. */
  readonly nothingProbability: number
  /** Likeliest first; the state in which nothing is bad is among them. Probabilities add up to 1. */
  readonly states: readonly StateShare[]
  /** The same by set. */
  readonly sets: readonly SetShare[]
  /** Estimated share of sets that were not weighed. */
  readonly unexplored: number
}

export interface SetRanking {
  /** The likeliest state of the whole site. */
  readonly best: { readonly members: MemberList; readonly level: number }
  readonly regions: readonly RegionRanking[]
  /** Likeliest first, all with any weight. */
  readonly joints: readonly JointPosterior[]
  /** [k]: chance that k joints are bad, of those that the readings can show. */
  readonly badCount: Float64Array
  readonly nothingProbability: number
  /** Chance of each common cause, in the order of `Batches.all`. */
  readonly batchProbability: Float64Array
  /**
   * Estimated share of what was not weighed, any region: an estimate from priors and screened gains, no bound that
   * is proved.
   */
  readonly unexplored: number
  /** States that were weighed in full. */
  readonly judged: number
}

/** Chances of the states of each region under every common cause, and of the causes. */
interface Mixed {
  /** Per cause. */
  readonly batchProbability: Float64Array
  /** Per region, per state in the order of the search: averaged over the causes. */
  readonly states: readonly Float64Array[]
  /** The same of its members: chance to be bad where the state is the case. */
  readonly badShares: readonly (readonly Float64Array[])[]
  /** Per region and cause: chance of so many bad joints. */
  readonly counts: readonly (readonly Float64Array[])[]
}

/** All states that were weighed, of all sets. */
function statesOf({ sets }: RegionWeights): readonly SetState[] {
  return sets.flatMap(({ states }) => states)
}

/** Under one cause: factor of each member's prior, and the chance that the member is bad and not unlucky. */
function underCause({ choices, batches }: SetInputs, b: number, members: MemberList) {
  let logFactor = 0
  const badShare = Float64Array.from(members, ({ candidate, choice }) => {
    const share = choices[candidate][choice].badShare
    const bad = factorAt(batches, b, candidate) * share
    logFactor += Math.log(bad + 1 - share)
    return bad / (bad + 1 - share)
  })
  return { logFactor, badShare }
}

/** Distribution of how many of these are bad, independently of each other. */
function countsAmong(badShare: Float64Array, into: Float64Array, weight: number): void {
  let counts: Float64Array = Float64Array.of(1)
  for (const share of badShare) counts = convolved(counts, Float64Array.of(1 - share, share))
  counts.forEach((p, k) => (into[k] += weight * p))
}

/**
 * Given a common cause the regions do not know of each other:
 *
 *   P(cause, states) ∝ P(cause) Π_regions L(state) Π_members (odds bad × factor + odds unlucky)
 *
 * `trust` is the power that the density L of the readings is raised to: 1 where the site fits its model. O(states ×
 * causes).
 */
function mix(inputs: SetInputs, found: readonly RegionWeights[], trust: number): Mixed {
  const { all } = inputs.batches
  const log = all.map(({ logWeight }) => logWeight)
  const byRegion = found.map((region) => {
    const states = statesOf(region)
    const most = states.reduce((best, { logEvidence }) => Math.max(best, logEvidence), -Infinity)
    const base = states.map(
      ({ members, logEvidence }) => trust * (logEvidence - most) + logOddsOf(inputs, members),
    )
    const size = Math.max(...states.map(({ members }) => members.length))
    const byCause = all.map((_, b) => {
      const under = states.map(({ members }) => underCause(inputs, b, members))
      const weights = under.map(({ logFactor }, s) => base[s] + logFactor)
      const total = logSumExp(weights)
      log[b] += total
      const chances = Float64Array.from(weights, (x) => Math.exp(x - total))
      const counts = new Float64Array(size + 1)
      under.forEach(({ badShare }, s) => {
        countsAmong(badShare, counts, chances[s])
      })
      return { under, chances, counts }
    })
    return { states, byCause }
  })
  const whole = logSumExp(log)
  const batchProbability = Float64Array.from(log, (x) => Math.exp(x - whole))
  return {
    batchProbability,
    states: byRegion.map(({ states, byCause }) =>
      Float64Array.from(states, (_, s) =>
        byCause.reduce((sum, { chances }, b) => sum + batchProbability[b] * chances[s], 0),
      ),
    ),
    badShares: byRegion.map(({ states, byCause }) =>
      states.map(({ members }, s) => {
        const share = new Float64Array(members.length)
        let sum = 0
        byCause.forEach(({ under, chances }, b) => {
          const weight = batchProbability[b] * chances[s]
          sum += weight
          under[s].badShare.forEach((x, m) => (share[m] += weight * x))
        })
        return sum > 0 ? share.map((x) => x / sum) : share
      }),
    ),
    counts: byRegion.map(({ byCause }) => byCause.map(({ counts }) => counts)),
  }
}

function jointsOf(
  inputs: SetInputs,
  found: readonly RegionWeights[],
  regions: readonly RegionRanking[],
): JointPosterior[] {
  const bySeverity = new Map<number, Map<number, number>>()
  for (const { states } of regions) {
    for (const { members, probability, badShare } of states) {
      members.forEach(({ candidate, choice }, m) => {
        const own = bySeverity.get(candidate) ?? new Map<number, number>()
        own.set(choice, (own.get(choice) ?? 0) + probability * badShare[m])
        bySeverity.set(candidate, own)
      })
    }
  }
  const screened = new Map<number, { readonly open: number; readonly raised: number }>()
  for (const region of found) {
    for (const [candidate, { logOpen, logRaised }] of region.screened) {
      if (!bySeverity.has(candidate)) bySeverity.set(candidate, new Map())
      const [open, raised] = [logOpen, logRaised].map((log) => Math.exp(log - region.logTotal))
      screened.set(candidate, { open, raised })
    }
  }
  return [...bySeverity]
    .map(([candidate, own]): JointPosterior => {
      const severities = [...own]
        .sort(([a], [b]) => a - b)
        .map(([choice, probability]) => ({
          addedOhm: inputs.choices[candidate][choice].addedOhm,
          probability,
        }))
      const sum = (isOpen: boolean) =>
        severities
          .filter(({ addedOhm }) => (addedOhm === Infinity) === isOpen)
          .reduce((total, { probability }) => total + probability, 0)
      const openProbability = sum(true)
      const raisedProbability = sum(false)
      return {
        candidate,
        edge: inputs.candidates.edge[candidate],
        probability: openProbability + raisedProbability,
        openProbability,
        raisedProbability,
        screenedOpen: screened.get(candidate)?.open ?? 0,
        screenedRaised: screened.get(candidate)?.raised ?? 0,
        severities,
      }
    })
    .sort((a, b) => withScreened(b) - withScreened(a) || a.edge - b.edge)
}

function withScreened({ probability, screenedOpen, screenedRaised }: JointPosterior): number {
  return probability + screenedOpen + screenedRaised
}

/** Distribution of the sum of independent counts. */
function convolved(one: Float64Array, other: Float64Array): Float64Array {
  const sum = new Float64Array(one.length + other.length - 1)
  one.forEach((x, i) => other.forEach((y, j) => (sum[i + j] += x * y)))
  return sum
}

/** Causes with less than this are left out of the count of bad joints. */
const leastCause = 1e-6

function badCountOf({ batchProbability, counts }: Mixed): Float64Array {
  const used = Array.from(batchProbability.keys()).filter((b) => batchProbability[b] > leastCause)
  const total = used.reduce((sum, b) => sum + batchProbability[b], 0)
  const length = counts.reduce((sum, byCause) => sum + byCause[0].length - 1, 1)
  const badCount = new Float64Array(length)
  for (const b of used) {
    const of = counts.map((byCause) => byCause[b]).reduce(convolved, Float64Array.of(1))
    of.forEach((p, k) => (badCount[k] += (batchProbability[b] / total) * p))
  }
  return badCount
}

function rankRegion(
  { candidates }: SetInputs,
  region: RegionWeights,
  chances: Float64Array,
  badShares: readonly Float64Array[],
): RegionRanking {
  const states = statesOf(region)
    .map(({ members, level }, s): StateShare => {
      return { members, level, probability: chances[s], badShare: badShares[s] }
    })
    .sort((a, b) => b.probability - a.probability || a.members.length - b.members.length)
  const bySet = new Map<string, StateShare[]>()
  for (const state of states) {
    const key = setKey(state.members)
    const list = bySet.get(key)
    if (list) list.push(state)
    else bySet.set(key, [state])
  }
  const sets = [...bySet.values()]
    .map((list): SetShare => ({
      candidates: list[0].members.map(({ candidate }) => candidate),
      edges: list[0].members.map(({ candidate }) => candidates.edge[candidate]),
      probability: list.reduce((sum, { probability }) => sum + probability, 0),
      state: list[0],
    }))
    .sort((a, b) => b.probability - a.probability)
  return {
    candidates: region.candidates,
    nothingProbability: states.reduce(
      (sum, { probability, badShare }) =>
        sum + badShare.reduce((product, share) => product * (1 - share), probability),
      0,
    ),
    states,
    sets,
    unexplored: Math.exp(region.logUnexplored - logAdd(region.logTotal, region.logUnexplored)),
  }
}

/** The answer of a search: regions, joints, how many are bad, what was not explored. `trust`: see `mix`. */
export function summarise(inputs: SetInputs, { found, best, judged }: SetSearch, trust: number): SetRanking {
  const mixed = mix(inputs, found, trust)
  const regions = found.map((region, r) => rankRegion(inputs, region, mixed.states[r], mixed.badShares[r]))
  const badCount = badCountOf(mixed)
  return {
    best,
    regions,
    joints: jointsOf(inputs, found, regions),
    badCount,
    nothingProbability: badCount[0],
    batchProbability: mixed.batchProbability,
    unexplored: 1 - regions.reduce((product, { unexplored }) => product * (1 - unexplored), 1),
    judged,
  }
}
