import { setKey, stateKey, type MemberList } from './setInputs.ts'

/** A state that was screened and not weighed. */
export interface Pending {
  readonly key: string
  readonly members: MemberList
  /** ln of what it is thought to weigh. */
  readonly estimate: number
}

/** States of one size that wait to be weighed, each with the best estimate that was made of it. */
export interface PendingStates {
  readonly byKey: Map<string, Pending>
  readonly bySet: Map<string, Set<string>>
  /** Keys of those that were taken out. */
  readonly taken: Set<string>
  /** Those that may be worth weighing; outdated estimates among them. */
  readonly live: Pending[]
}

export function noPendingStates(): PendingStates {
  return { byKey: new Map(), bySet: new Map(), taken: new Set(), live: [] }
}

/** Enters a state, or a better estimate of one; live from `least` on. Those that were taken out stay out. */
export function propose(pool: PendingStates, members: MemberList, estimate: number, least: number): void {
  const key = stateKey(members)
  if (pool.taken.has(key)) return
  const known = pool.byKey.get(key)
  if (known && known.estimate >= estimate) return
  const item = { key, members, estimate }
  pool.byKey.set(key, item)
  if (!(estimate < least)) pool.live.push(item)
  if (known) return
  const set = setKey(members)
  const keys = pool.bySet.get(set)
  if (keys) keys.add(key)
  else pool.bySet.set(set, new Set([key]))
}

export function take(pool: PendingStates, item: Pending): Pending {
  pool.byKey.delete(item.key)
  pool.taken.add(item.key)
  return item
}

/** Takes out the state with the best estimate, from `least` on; of equals the first by key. O(live). */
export function takeBest(pool: PendingStates, least: number): Pending | null {
  const { live, byKey } = pool
  let at = -1
  for (let k = 0; k < live.length; k++) {
    const item = live[k]
    if (byKey.get(item.key) !== item || item.estimate < least) continue
    const lead = at < 0 ? 1 : item.estimate - live[at].estimate
    if (lead > 0 || (!(lead < 0) && item.key < live[at].key)) at = k
  }
  if (at < 0) return null
  const best = live[at]
  live[at] = live[live.length - 1]
  live.pop()
  return take(pool, best)
}

/**
 * A state of the set weighs more than it was thought to, since soil or contacts are other than under the set that was
 * extended: so may its other severities.
 */
export function raiseSet(pool: PendingStates, members: MemberList, byNats: number, least: number): void {
  for (const key of pool.bySet.get(setKey(members)) ?? []) {
    const item = pool.byKey.get(key)
    if (item) propose(pool, item.members, item.estimate + byNats, least)
  }
}
