import { portion } from '../../base/portion.ts'
import type { Batches } from '../batches.ts'
import type { Choice } from '../choices.ts'
import type { Measurement } from '../evidence.ts'
import type { Candidates, LevelModel } from '../levelModel.ts'
import type { Ranking } from '../rank.ts'
import { regionsOf } from './regions.ts'
import {
  candidatesPerSlice,
  screenerOf,
  searchRegion,
  usualLimits,
  type RegionWeights,
  type Screener,
  type SearchLimits,
} from './searchRegion.ts'
import {
  enter,
  joined,
  membersOfKey,
  stateKey,
  weigherOf,
  weighState,
  withMember,
  type Member,
  type MemberList,
  type Parting,
  type SetInputs,
  type StateWeight,
  type Weigher,
} from './setInputs.ts'
import type { SetNetwork } from './setNetwork.ts'
import type { SetSearch } from './setRanking.ts'

/** Rounds in which the regions are searched anew because another one has changed. */
const mostRounds = 8
/** Extensions that are weighed in full before the site's likeliest state grows by one. */
const triedToGrow = 3

/** Readings, candidates and network at every soil level, with the severities that count. */
export function setInputsOf(
  candidates: Candidates,
  models: readonly LevelModel[],
  measurement: Measurement,
  { levels }: Ranking,
  network: SetNetwork,
  choices: readonly (readonly Choice[])[],
  batches: Batches,
  parting: Parting,
): SetInputs {
  const centre = models.findIndex((model) => model.lnSoil === 0)
  return { network, candidates, models, levels, centre, measurement, choices, batches, parting }
}

/** What the ranking of single joints has weighed already need not be weighed again. */
function takeOver(weigher: Weigher, ranking: Ranking): void {
  const { choices } = weigher.inputs
  enter(weigher, [], ranking.soundLogWeight, ranking.soundLevel)
  for (const { candidate, states } of ranking.joints) {
    for (const { severity, logWeight, level } of states) {
      const choice = choices[candidate].findIndex(({ addedOhm }) => addedOhm === severity.addedOhm)
      if (choice >= 0) enter(weigher, [{ candidate, choice }], logWeight - severity.logPrior, level)
    }
  }
}

interface SiteState extends StateWeight {
  readonly members: MemberList
}

/** Pairs whose severities are varied. */
const mostVaried = 4

/** Weighs the pairs that part high readings: both open, and of the likeliest one open and the other raised. */
function* weighPairs(weigher: Weigher): Generator<number, readonly MemberList[]> {
  const { choices, parting } = weigher.inputs
  const open = (candidate: number): Member => ({
    candidate,
    choice: choices[candidate].findIndex(({ addedOhm }) => addedOhm === Infinity),
  })
  const weighed: { readonly members: MemberList; readonly logWeight: number }[] = []
  const weigh = (one: Member, other: Member) => {
    const members = joined([one], [other])
    const { logWeight } = weighState(weigher, members)
    if (logWeight > -Infinity) weighed.push({ members, logWeight })
  }
  for (const [one, other] of parting.pairs) {
    weigh(open(one), open(other))
    yield 0
  }
  weighed.sort((a, b) => b.logWeight - a.logWeight)
  for (const { members } of weighed.slice(0, mostVaried)) {
    for (const [one, other] of [members, members.toReversed()]) {
      for (let choice = 0; choice < choices[other.candidate].length; choice++) {
        if (choice !== other.choice) weigh(one, { candidate: other.candidate, choice })
        yield 0
      }
    }
  }
  return weighed.map(({ members }) => members)
}

/** From the likeliest single joint or pair, or none, joint by joint to a state that no further one makes likelier. */
function* grow(
  weigher: Weigher,
  screen: Screener,
  regionOf: Int32Array,
  mostBad: number,
): Generator<number, SiteState> {
  let state: SiteState = { members: [], ...weighState(weigher, []) }
  for (const [key, weight] of weigher.known) {
    if (weight.logWeight <= state.logWeight || key === '') continue
    state = { members: membersOfKey(key), ...weight }
  }
  for (;;) {
    yield 0
    const { members } = state
    const room = (k: number) =>
      members.filter(({ candidate }) => regionOf[candidate] === regionOf[k]).length < mostBad
    const extensions = screen(members, state.level)
    const gaining: (Member & { readonly gain: number })[] = []
    for (let candidate = 0; candidate < regionOf.length; candidate++) {
      if (candidate % candidatesPerSlice === candidatesPerSlice - 1) yield 0
      if (regionOf[candidate] < 0 || !room(candidate)) continue
      const gains = extensions(candidate)
      const choice = gains.indexOf(Math.max(...gains))
      if (gains[choice] > 0) gaining.push({ candidate, choice, gain: gains[choice] })
    }
    gaining.sort((a, b) => b.gain - a.gain)
    const last = state
    for (const { candidate, choice } of gaining.slice(0, triedToGrow)) {
      const larger = withMember(members, { candidate, choice })
      const weight = weighState(weigher, larger)
      if (weight.logWeight > state.logWeight) state = { members: larger, ...weight }
      yield 0
    }
    if (state === last) return state
  }
}

/**
 * Ranks sets of bad joints, any number on a site, up to `mostBad` in each region of candidates that share readings.
 *
 * Regions are coupled by what all readings share: lead offset, level of the joint kinds, gain, soil. Each is searched
 * with the others in their likeliest state, all readings weighed together, until no region changes any more (iterated
 * conditional modes; Besag 1986). What is said of a region is exact given the others; the site's probabilities are
 * the product over regions given the common cause of their defects, if any (`summarise`). With a single region nothing is
 * approximate but what was not explored.
 *
 * Deterministic. Yields between states.
 */
export function* searchSets(
  inputs: SetInputs,
  ranking: Ranking,
  limits: SearchLimits = usualLimits,
): Generator<number, SetSearch> {
  const weigher = weigherOf(inputs)
  takeOver(weigher, ranking)
  const screen = screenerOf(weigher)
  const regions = regionsOf(inputs)
  const regionOf = new Int32Array(inputs.choices.length).fill(-1)
  regions.forEach((region, r) => region.forEach((k) => (regionOf[k] = r)))
  const pairs = yield* portion(weighPairs(weigher), 0, 0)
  let { members } = yield* portion(grow(weigher, screen, regionOf, limits.mostBad), 0, 0)
  const inRegion = (r: number) => members.filter(({ candidate }) => regionOf[candidate] === r)
  const within = (r: number) => (some: MemberList) => some.every(({ candidate }) => regionOf[candidate] === r)
  const found: RegionWeights[] = []
  const searchedBeside: string[] = []
  for (let round = 0; round < mostRounds; round++) {
    let changed = false
    for (let r = 0; r < regions.length; r++) {
      const others = members.filter(({ candidate }) => regionOf[candidate] !== r)
      const beside = stateKey(others)
      if (searchedBeside[r] === beside) continue
      const from = 0.1 + (0.9 * r) / regions.length
      found[r] = yield* portion(
        searchRegion(weigher, screen, regions[r], others, limits, pairs.filter(within(r))),
        from,
        0.9 / regions.length,
      )
      searchedBeside[r] = beside
      const best: readonly Member[] = likeliest(found[r])
      if (stateKey(best) === stateKey(inRegion(r))) continue
      members = joined(best, others)
      changed = true
    }
    if (!changed || weigher.effort > limits.mostEffort) break
  }
  return { found, best: { members, ...weighState(weigher, members) }, judged: weigher.judged }
}

/** The likeliest state of a region, whichever set it belongs to. */
function likeliest({ sets }: RegionWeights): MemberList {
  let best = sets[0].states[0]
  for (const { states } of sets) if (states[0].logWeight > best.logWeight) best = states[0]
  return best.members
}
