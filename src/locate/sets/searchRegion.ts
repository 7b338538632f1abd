import { logAdd, logSumExp } from '../../base/logSum.ts'
import { screenExtensions, type Extensions } from './screenExtensions.ts'
import {
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
}

export const usualLimits: SearchLimits = {
  mostBad: 4,
  beam: 4,
  statesPerSet: 2,
  windowNats: 7,
  mostWeighed: 120,
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
  return (members, level) => {
    const key = `${level}/${stateKey(members)}`
    const extensions = known.get(key) ?? screenExtensions(inputs, members, level, work)
    known.set(key, extensions)
    return extensions
  }
}

interface Pending {
  readonly members: MemberList
  readonly estimate: number
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
 * estimate of the weight that was not explored. Yields after every state.
 */
export function* searchRegion(
  weigher: Weigher,
  screen: Screener,
  candidates: readonly number[],
  others: MemberList,
  limits: SearchLimits,
): Generator<number, RegionWeights> {
  const { windowNats, mostBad, beam, statesPerSet, mostWeighed } = limits
  const states: SetState[] = []
  let best = -Infinity
  let logUnexplored = -Infinity
  const weigh = (members: MemberList): SetState => {
    const state: SetState = { members, ...weighState(weigher, joined(members, others)) }
    states.push(state)
    best = Math.max(best, state.logWeight)
    return state
  }
  const screened = new Map<number, ScreenedJoint>()
  const isKnown = (members: MemberList) => weigher.known.has(stateKey(joined(members, others)))
  let grown = gather([weigh([])])
  let typical = -Infinity
  for (let size = 1; size <= mostBad; size++) {
    const pending = new Map<string, Pending>()
    const isDone = new Set<string>()
    const propose = (members: MemberList, estimate: number): Pending | null => {
      const key = stateKey(members)
      const known = pending.get(key)
      if (known && known.estimate >= estimate) return null
      const item = { members, estimate }
      pending.set(key, item)
      return item
    }
    const [extended, passed] = [grown.slice(0, beam), grown.slice(beam)]
    // states of the extended sets that were not screened themselves, by how far they lie below one that was
    const siblings: { readonly state: SetState; readonly below: number }[] = []
    for (const set of extended) {
      if (set.logWeight < best - windowNats && size > 1) {
        passed.push(set)
        continue
      }
      for (const state of set.states.slice(0, statesPerSet)) {
        const extensions = screen(joined(state.members, others), state.level)
        let all = -Infinity
        for (const [k, candidate] of candidates.entries()) {
          if (k % candidatesPerSlice === candidatesPerSlice - 1) yield size / mostBad
          extensions(candidate).forEach((gain, choice) => {
            if (state.members.some((member) => member.candidate === candidate)) return
            all = logAdd(all, gain)
            propose(withMember(state.members, { candidate, choice }), state.logWeight + gain)
          })
        }
        if (state === grown[0].states[0]) typical = all
        yield size / mostBad
      }
      for (const state of set.states.slice(1))
        siblings.push({ state, below: state.logWeight - set.states[0].logWeight })
    }
    for (const set of passed) logUnexplored = logAdd(logUnexplored, set.logWeight + typical)

    const next: SetState[] = []
    const live = [...pending.values()].filter(
      ({ members, estimate }) => !(estimate < best - windowNats) || isKnown(members),
    )
    live.sort((x, y) => y.estimate - x.estimate)
    for (let item = live.shift(); item; item = live.shift()) {
      const { members, estimate } = item
      const key = stateKey(members)
      // a better estimate may have come in since, and the state with it
      if (isDone.has(key)) continue
      if (!isKnown(members) && (estimate < best - windowNats || next.length >= mostWeighed)) continue
      pending.delete(key)
      isDone.add(key)
      const state = weigh(members)
      next.push(state)
      yield size / mostBad
      for (const { state: sibling, below } of siblings) {
        const other = withSeveritiesOf(sibling.members, members)
        if (other === null || isDone.has(stateKey(other))) continue
        const better = propose(other, state.logWeight + below)
        if (better && !(better.estimate < best - windowNats)) enter(live, better)
      }
    }
    for (const { members, estimate } of pending.values()) {
      logUnexplored = logAdd(logUnexplored, estimate)
      for (const member of members) addScreened(weigher, screened, member, estimate)
    }
    grown = gather(next)
    if (grown.length === 0) break
  }
  if (grown.length > 0) {
    const [{ states: full }] = grown
    const further = screen(joined(full[0].members, others), full[0].level)
    const all = logSumExp(candidates.map((candidate) => logSumExp(further(candidate))))
    for (const { logWeight } of grown) logUnexplored = logAdd(logUnexplored, logWeight + all)
  }
  const sets = gather(states)
  return {
    candidates,
    sets,
    logTotal: logSumExp(sets.map(({ logWeight }) => logWeight)),
    logUnexplored,
    screened,
  }
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

/** Keeps the list in falling order of the estimates, the newcomer after its equals. */
function enter(live: Pending[], item: Pending): void {
  const at = live.findIndex(({ estimate }) => estimate < item.estimate)
  live.splice(at < 0 ? live.length : at, 0, item)
}
