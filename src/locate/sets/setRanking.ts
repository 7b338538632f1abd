import { logAdd, logSumExp } from '../../base/logSum.ts'
import { lnFactorAt } from '../batches.ts'
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
  /** Per region and cause: chance that nothing is bad. */
  readonly nothing: readonly Float64Array[]
  /** Per region and cause: chance of so many bad joints. */
  readonly counts: readonly (readonly Float64Array[])[]
}

/** All states that were weighed, of all sets. */
function statesOf({ sets }: RegionWeights): readonly SetState[] {
  return sets.flatMap(({ states }) => states)
}

/**
 * Given a common cause the regions do not know of each other:
 *
 *   P(cause, states) ∝ P(cause) Π_regions L(state) Π_members odds × factor
 *
 * `trust` is the power that the density L of the readings is raised to: 1 where the site fits its model. O(states ×
 * causes).
 */
function mix(inputs: SetInputs, found: readonly RegionWeights[], trust: number): Mixed {
  const { batches } = inputs
  const causes = batches.all.length
  const log = batches.all.map(({ logWeight }) => logWeight)
  const conditional = found.map((region) => {
    const states = statesOf(region)
    const most = states.reduce((best, { logEvidence }) => Math.max(best, logEvidence), -Infinity)
    const base = states.map(
      ({ members, logEvidence }) => trust * (logEvidence - most) + logOddsOf(inputs, members),
    )
    return batches.all.map((_, b) => {
      const weights = Float64Array.from(states, ({ members }, s) =>
        members.reduce((sum, { candidate }) => sum + lnFactorAt(batches, b, candidate), base[s]),
      )
      const total = logSumExp(weights)
      log[b] += total
      return weights.map((x) => Math.exp(x - total))
    })
  })
  const whole = logSumExp(log)
  const batchProbability = Float64Array.from(log, (x) => Math.exp(x - whole))
  const sized = found.map((region) => statesOf(region).map(({ members }) => members.length))
  return {
    batchProbability,
    states: conditional.map((byCause) =>
      byCause[0].map((_, s) =>
        byCause.reduce((sum, chances, b) => sum + batchProbability[b] * chances[s], 0),
      ),
    ),
    nothing: conditional.map((byCause, r) => {
      const empty = sized[r].indexOf(0)
      return Float64Array.from(byCause, (chances) => chances[empty])
    }),
    counts: conditional.map((byCause, r) =>
      Array.from({ length: causes }, (_, b) => {
        const counts = new Float64Array(Math.max(...sized[r]) + 1)
        byCause[b].forEach((p, s) => (counts[sized[r][s]] += p))
        return counts
      }),
    ),
  }
}

function jointsOf(
  inputs: SetInputs,
  found: readonly RegionWeights[],
  regions: readonly RegionRanking[],
): JointPosterior[] {
  const bySeverity = new Map<number, Map<number, number>>()
  for (const { states } of regions) {
    for (const { members, probability } of states) {
      for (const { candidate, choice } of members) {
        const own = bySeverity.get(candidate) ?? new Map<number, number>()
        own.set(choice, (own.get(choice) ?? 0) + probability)
        bySeverity.set(candidate, own)
      }
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

function rankRegion({ candidates }: SetInputs, region: RegionWeights, chances: Float64Array): RegionRanking {
  const states = statesOf(region)
    .map(({ members, level }, s): StateShare => ({ members, level, probability: chances[s] }))
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
    nothingProbability: sets.find((set) => set.candidates.length === 0)?.probability ?? 0,
    states,
    sets,
    unexplored: Math.exp(region.logUnexplored - logAdd(region.logTotal, region.logUnexplored)),
  }
}

/** The answer of a search: regions, joints, how many are bad, what was not explored. `trust`: see `mix`. */
export function summarise(inputs: SetInputs, { found, best, judged }: SetSearch, trust: number): SetRanking {
  const mixed = mix(inputs, found, trust)
  const regions = found.map((region, r) => rankRegion(inputs, region, mixed.states[r]))
  return {
    best,
    regions,
    joints: jointsOf(inputs, found, regions),
    badCount: badCountOf(mixed),
    nothingProbability: mixed.batchProbability.reduce(
      (sum, p, b) => sum + mixed.nothing.reduce((product, byCause) => product * byCause[b], p),
      0,
    ),
    batchProbability: mixed.batchProbability,
    unexplored: 1 - regions.reduce((product, { unexplored }) => product * (1 - unexplored), 1),
    judged,
  }
}
