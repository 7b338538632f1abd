import { logAdd } from '../../base/logSum.ts'
import type { RegionWeights, SetState, WeighedSet } from './searchRegion.ts'
import type { SetInputs } from './setInputs.ts'

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

export interface SetShare {
  readonly candidates: readonly number[]
  readonly edges: readonly number[]
  /** Within its region. */
  readonly probability: number
  /** Its likeliest state. */
  readonly state: SetState
}

/** A part of the site whose candidates share readings with each other and with no other candidate. */
export interface RegionRanking {
  readonly candidates: readonly number[]
  readonly nothingProbability: number
  /** Likeliest first; the empty set is among them. Probabilities add up to 1. */
  readonly sets: readonly SetShare[]
  /** Estimated share of sets that were not weighed. */
  readonly unexplored: number
}

export interface SetRanking {
  /** The likeliest state of the whole site. */
  readonly best: SetState
  readonly regions: readonly RegionRanking[]
  /** Likeliest first, all with any weight. */
  readonly joints: readonly JointPosterior[]
  /** [k]: chance that k joints are bad, of those that the readings can show. */
  readonly badCount: Float64Array
  readonly nothingProbability: number
  /**
   * Estimated share of what was not weighed, any region: an estimate from priors and screened gains, no bound that
   * is proved.
   */
  readonly unexplored: number
  /** States that were weighed in full. */
  readonly judged: number
}

function shareOf({ candidates }: SetInputs, region: RegionWeights, set: WeighedSet): SetShare {
  return {
    candidates: set.members,
    edges: set.members.map((k) => candidates.edge[k]),
    probability: Math.exp(set.logWeight - region.logTotal),
    state: set.states[0],
  }
}

function jointsOf(inputs: SetInputs, regions: readonly RegionWeights[]): JointPosterior[] {
  const bySeverity = new Map<number, Map<number, number>>()
  for (const { sets, logTotal } of regions) {
    for (const { states } of sets) {
      for (const { members, logWeight } of states) {
        const probability = Math.exp(logWeight - logTotal)
        for (const { candidate, choice } of members) {
          const own = bySeverity.get(candidate) ?? new Map<number, number>()
          own.set(choice, (own.get(choice) ?? 0) + probability)
          bySeverity.set(candidate, own)
        }
      }
    }
  }
  const screened = new Map<number, { readonly open: number; readonly raised: number }>()
  for (const region of regions) {
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

function countsOf({ sets }: RegionRanking): Float64Array {
  const most = sets.reduce((k, { candidates }) => Math.max(k, candidates.length), 0)
  const counts = new Float64Array(most + 1)
  for (const { candidates, probability } of sets) counts[candidates.length] += probability
  return counts
}

/** The answer of a search: regions, joints, how many are bad, what was not explored. */
export function summarise(
  inputs: SetInputs,
  found: readonly RegionWeights[],
  best: SetState,
  judged: number,
): SetRanking {
  const regions = found.map((region): RegionRanking => {
    const sets = region.sets.map((set) => shareOf(inputs, region, set))
    return {
      candidates: region.candidates,
      nothingProbability: sets.find(({ candidates }) => candidates.length === 0)?.probability ?? 0,
      sets,
      unexplored: Math.exp(region.logUnexplored - logAdd(region.logTotal, region.logUnexplored)),
    }
  })
  return {
    best,
    regions,
    joints: jointsOf(inputs, found),
    badCount: regions.map(countsOf).reduce(convolved, Float64Array.of(1)),
    nothingProbability: regions.reduce((product, { nothingProbability }) => product * nothingProbability, 1),
    unexplored: 1 - regions.reduce((product, { unexplored }) => product * (1 - unexplored), 1),
    judged,
  }
}
