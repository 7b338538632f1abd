import { logAdd, logSumExp } from '../../base/logSum.ts'
import { crowdingAt } from '../batches.ts'
import { noPendingStates, propose, raiseSet, take, takeBest, type PendingStates } from './pendingStates.ts'
import { screenExtensions, type Extensions } from './screenExtensions.ts'
import {
  badAmong,
  joined,
  setKey,
  stateKey,
  weighState,
  withMember,
  type Member,
  type MemberList,
  type StateWeight,
  type Weigher,
} from './setInputs.ts'

export interface SearchLimits {
  /** Bad joints that a region may have at once. */
  readonly mostBad: number
  /** Sets, and states of each, that are extended at every size. */
  readonly beam: number
  readonly statesPerSet: number
  /** Occam's window: what is less likely than the best by more than this (ln) is left out. */
  readonly windowNats: number
  /** States that are weighed in full at every size. */
  readonly mostWeighed: number
  /** Once weighing has taken so much on the whole site (`Weigher.effort`), only so many more at every size. */
  readonly mostEffort: number
  readonly mostBeyond: number
}

export const usualLimits: SearchLimits = {
  mostBad: 4,
  beam: 4,
  statesPerSet: 2,
  windowNats: 7,
  mostWeighed: 120,
  mostEffort: 6e8,
  mostBeyond: 6,
}

/** Candidates that are screened between two pauses. */
export const candidatesPerSlice = 32

/** One state of a set: every member with its severity. */
export interface SetState extends StateWeight {
  readonly members: MemberList
}

/** A set of bad joints of one region, the likeliest of its states first. */
export interface WeighedSet {
  readonly members: readonly number[]
  readonly logWeight: number
  readonly states: readonly SetState[]
}

export interface ScreenedJoint {
  readonly logOpen: number
  readonly logRaised: number
}

/** What one region may be, given what is assumed of the others. */
export interface RegionWeights {
  readonly candidates: readonly number[]
  /** Likeliest first; the empty set is among them. */
  readonly sets: readonly WeighedSet[]
  readonly logTotal: number
  /** ln of the estimated weight of sets that were not weighed. */
  readonly logUnexplored: number
  /** Of that, per candidate: of states that were screened and have it, open or raised. */
  readonly screened: ReadonlyMap<number, ScreenedJoint>
}

/** Screens the extensions of a state of the whole site; kept, since regions without a bad joint share it. */
export type Screener = (members: MemberList, level: number) => Extensions

export function screenerOf({ inputs, work }: Weigher): Screener {
  const known = new Map<string, Extensions>()
  const { batches, choices, parting } = inputs
  const none = (length: number) => new Float64Array(length).fill(-Infinity)
  return (members, level) => {
    const key = `${level}/${stateKey(members)}`
    const before = known.get(key)
    if (before) return before
    const screened = screenExtensions(inputs, members, level, work)
    const bad = badAmong(inputs, members)
    const step = crowdingAt(batches, bad + 1) - crowdingAt(batches, bad)
    const gains = new Map<number, Float64Array>()
    const hasTogether = members.some(({ candidate }) => parting.isOnlyTogether[candidate] === 1)
    const extensions = (candidate: number) => {
      if (parting.isOnlyTogether[candidate] === 1 && !hasTogether) return none(choices[candidate].length)
      const gain =
        gains.get(candidate) ??
        screened(candidate).map((nats, j) => (choices[candidate][j].badShare > 0.5 ? nats + step : nats))
      gains.set(candidate, gain)
      return gain
    }
    known.set(key, extensions)
    return extensions
  }
}

/** Sets of the states that were weighed, likeliest first. */
function gather(states: readonly SetState[]): WeighedSet[] {
  const bySet = new Map<string, SetState[]>()
  for (const state of states) {
    const key = setKey(state.members)
    const list = bySet.get(key)
    if (list) list.push(state)
    else bySet.set(key, [state])
  }
  return [...bySet.values()]
    .map((list): WeighedSet => {
      const sorted = [...list].sort(
        (a, b) => b.logWeight - a.logWeight || a.members.length - b.members.length,
      )
      return {
        members: list[0].members.map(({ candidate }) => candidate),
        logWeight: logSumExp(list.map(({ logWeight }) => logWeight)),
        states: sorted,
      }
    })
    .sort((a, b) => b.logWeight - a.logWeight)
}

/**
 * Weighs the sets of bad joints of one region while `others`, the rest of the site, is as given: best-first by size. The
 * likeliest sets of one size (the beam; Schniter, Potter and Ziniel 2008) are extended by every further candidate and
 * severity, screened; what comes within Occam's window of the best (Madigan and Raftery 1994) is weighed in full,
 * likeliest first, together with the other severities of the set that was extended. What is left out adds to the
 * estimate of the weight that was not explored. `pairs`: states of two joints to be weighed in any case. Yields after
 * every state.
 */
export function* searchRegion(
  weigher: Weigher,
  screen: Screener,
  candidates: readonly number[],
  others: MemberList,
  limits: SearchLimits,
  pairs: readonly MemberList[] = [],
): Generator<number, RegionWeights> {
  const search: Search = { weigher, screen, candidates, others, limits, states: [], best: -Infinity }
  const screened = new Map<number, ScreenedJoint>()
  let logUnexplored = -Infinity
  let typical = -Infinity
  // what a set would have been extended by has the joints of the set bad, too
  const leaveOut = ({ logWeight, states }: WeighedSet, gains: number) => {
    logUnexplored = logAdd(logUnexplored, logWeight + gains)
    for (const member of states[0].members) addScreened(weigher, screened, member, logWeight + gains)
  }
  let grown = gather([weigh(search, [])])
  // pairs may be all there is: joints that show only together
  const hasMore = (size: number) => grown.length > 0 || (size === 2 && pairs.length > 0)
  for (let size = 1; size <= limits.mostBad && hasMore(size); size++) {
    const pool = noPendingStates()
    const extended = grown
      .slice(0, limits.beam)
      .filter(({ logWeight }) => size === 1 || !(logWeight < search.best - limits.windowNats))
    for (const set of extended) {
      const gains = yield* extendSet(search, set, pool)
      if (set === grown[0]) typical = gains
    }
    if (size === 2) for (const pair of pairs) propose(pool, pair, Infinity, -Infinity)
    for (const set of grown.filter((one) => !extended.includes(one))) leaveOut(set, typical)
    grown = gather(yield* weighPending(search, pool, extended))
    for (const { members, estimate } of pool.byKey.values()) {
      logUnexplored = logAdd(logUnexplored, estimate)
      for (const member of members) addScreened(weigher, screened, member, estimate)
    }
    yield size / limits.mostBad
  }
  if (grown.length > 0) {
    const [{ members, level }] = grown[0].states
    const further = screen(joined(members, others), level)
    const all = logSumExp(candidates.map((candidate) => logSumExp(further(candidate))))
    for (const set of grown) leaveOut(set, all)
  }
  const sets = gather(search.states)
  const logTotal = logSumExp(sets.map(({ logWeight }) => logWeight))
  return { candidates, sets, logTotal, logUnexplored, screened }
}

interface Search {
  readonly weigher: Weigher
  readonly screen: Screener
  readonly candidates: readonly number[]
  readonly others: MemberList
  readonly limits: SearchLimits
  readonly states: SetState[]
  best: number
}

function weigh(search: Search, members: MemberList): SetState {
  const state: SetState = { members, ...weighState(search.weigher, joined(members, search.others)) }
  search.states.push(state)
  search.best = Math.max(search.best, state.logWeight)
  return state
}

/** Screens every further joint beside the likeliest states of a set; returns ln of all gains beside the first. */
function* extendSet(
  { screen, candidates, others, limits, best }: Search,
  set: WeighedSet,
  pool: PendingStates,
): Generator<number, number> {
  const least = best - limits.windowNats
  let gains = -Infinity
  for (const state of set.states.slice(0, limits.statesPerSet)) {
    const extensions = screen(joined(state.members, others), state.level)
    for (const [k, candidate] of candidates.entries()) {
      if (k % candidatesPerSlice === candidatesPerSlice - 1) yield 0
      if (set.members.includes(candidate)) continue
      extensions(candidate).forEach((gain, choice) => {
        if (state === set.states[0]) gains = logAdd(gains, gain)
        propose(pool, withMember(state.members, { candidate, choice }), state.logWeight + gain, least)
      })
    }
    yield 0
  }
  return gains
}

/** Weighs what waits, likeliest first, down to the window's end, and with it what that makes likely. */
function* weighPending(
  search: Search,
  pool: PendingStates,
  extended: readonly WeighedSet[],
): Generator<number, SetState[]> {
  const { weigher, others, limits } = search
  const weighed: SetState[] = []
  for (const item of [...pool.byKey.values()]) {
    if (weigher.known.has(stateKey(joined(item.members, others))))
      weighed.push(weigh(search, take(pool, item).members))
  }
  const known = weighed.length
  const least = () => search.best - limits.windowNats
  const mostNow = () => (weigher.effort > limits.mostEffort ? limits.mostBeyond : limits.mostWeighed)
  while (weighed.length < known + mostNow()) {
    const item = takeBest(pool, least())
    if (!item) break
    const state = weigh(search, item.members)
    weighed.push(state)
    yield 0
    const above = state.logWeight - item.estimate
    if (above > 0) raiseSet(pool, item.members, above, least())
    for (const { states } of extended) {
      for (const sibling of states.slice(1)) {
        const other = withSeveritiesOf(sibling.members, item.members)
        const below = sibling.logWeight - states[0].logWeight
        if (other) propose(pool, other, state.logWeight + below, least())
      }
    }
  }
  return weighed
}

/** The members with the severities that a smaller set has; null unless they are that set and one joint more. */
function withSeveritiesOf(smaller: MemberList, members: MemberList): MemberList | null {
  if (members.length !== smaller.length + 1) return null
  const choiceOf = new Map(smaller.map(({ candidate, choice }) => [candidate, choice]))
  const changed = members.map(({ candidate, choice }) => ({
    candidate,
    choice: choiceOf.get(candidate) ?? choice,
  }))
  const shared = members.filter(({ candidate }) => choiceOf.has(candidate)).length
  return shared === smaller.length ? changed : null
}

function addScreened(
  { inputs }: Weigher,
  screened: Map<number, ScreenedJoint>,
  { candidate, choice }: Member,
  estimate: number,
): void {
  const { logOpen, logRaised } = screened.get(candidate) ?? { logOpen: -Infinity, logRaised: -Infinity }
  const isOpen = inputs.choices[candidate][choice].addedOhm === Infinity
  screened.set(candidate, {
    logOpen: isOpen ? logAdd(logOpen, estimate) : logOpen,
    logRaised: isOpen ? logRaised : logAdd(logRaised, estimate),
  })
}
