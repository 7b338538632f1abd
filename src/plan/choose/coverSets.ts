/**
 * Candidate pairs and the joints that each shows, as compressed rows: candidate c shows `joint[offset[c]]` …
 * `joint[offset[c + 1] − 1]`, ascending, each once. `demand` says by how many of the chosen each joint is to be
 * shown; 0 where it need not be. A demand above the number of candidates that show the joint means all of them.
 */
export interface CoverSets {
  readonly joints: number
  readonly candidates: number
  readonly demand: Uint8Array
  readonly offset: Int32Array
  readonly joint: Int32Array
}

/** The same table by joint: `candidate[offset[e]]` … are those that show joint e, ascending. */
export interface Showers {
  readonly offset: Int32Array
  readonly candidate: Int32Array
  /** Where the entry stands in the table by candidate. */
  readonly entry: Int32Array
}

export function showersOf({ joints, candidates, offset, joint }: Omit<CoverSets, 'demand'>): Showers {
  const start = new Int32Array(joints + 1)
  for (let i = 0; i < joint.length; i++) start[joint[i] + 1]++
  for (let e = 0; e < joints; e++) start[e + 1] += start[e]
  const next = start.slice(0, joints)
  const candidate = new Int32Array(joint.length)
  const entry = new Int32Array(joint.length)
  for (let c = 0; c < candidates; c++)
    for (let i = offset[c]; i < offset[c + 1]; i++) {
      const at = next[joint[i]]++
      candidate[at] = c
      entry[at] = i
    }
  return { offset: start, candidate, entry }
}

/** Builds sets from lists, for small instances. `demand`: one for all, or per joint. */
export function coverSetsOf(
  joints: number,
  lists: readonly (readonly number[])[],
  demand: number | ArrayLike<number> = 1,
): CoverSets {
  const offset = new Int32Array(lists.length + 1)
  lists.forEach((list, c) => (offset[c + 1] = offset[c] + list.length))
  const joint = Int32Array.from(lists.flatMap((list) => [...list].sort((a, b) => a - b)))
  return {
    joints,
    candidates: lists.length,
    demand: typeof demand === 'number' ? new Uint8Array(joints).fill(demand) : Uint8Array.from(demand),
    offset,
    joint,
  }
}

/** Part of some sets, renumbered, with the numbers that its joints and candidates had. */
export interface SubSets {
  readonly sets: CoverSets
  readonly jointOf: Int32Array
  readonly candidateOf: Int32Array
}

/** The joints that have a need, the candidates that are kept and show at least one of them. `need` becomes the demand. */
export function subSetsOf(sets: CoverSets, need: Uint8Array, kept: Uint8Array): SubSets {
  const numberOf = new Int32Array(sets.joints).fill(-1)
  const jointOf: number[] = []
  for (let e = 0; e < sets.joints; e++)
    if (need[e] > 0) {
      numberOf[e] = jointOf.length
      jointOf.push(e)
    }
  let entries = 0
  for (let i = 0; i < sets.joint.length; i++) if (numberOf[sets.joint[i]] >= 0) entries++
  const joint = new Int32Array(entries)
  const offset: number[] = [0]
  const candidateOf: number[] = []
  let at = 0
  for (let c = 0; c < sets.candidates; c++) {
    if (kept[c] === 0) continue
    const first = at
    for (let i = sets.offset[c]; i < sets.offset[c + 1]; i++) {
      const e = numberOf[sets.joint[i]]
      if (e >= 0) joint[at++] = e
    }
    if (at === first) continue
    offset.push(at)
    candidateOf.push(c)
  }
  return {
    sets: {
      joints: jointOf.length,
      candidates: candidateOf.length,
      demand: Uint8Array.from(jointOf, (e) => need[e]),
      offset: Int32Array.from(offset),
      joint: joint.slice(0, at),
    },
    jointOf: Int32Array.from(jointOf),
    candidateOf: Int32Array.from(candidateOf),
  }
}

/** By how many of the chosen each joint is shown. */
export function timesShownBy(sets: CoverSets, chosen: Iterable<number>): Int32Array {
  const times = new Int32Array(sets.joints)
  for (const c of chosen) for (let i = sets.offset[c]; i < sets.offset[c + 1]; i++) times[sets.joint[i]]++
  return times
}

export function everyCandidate({ candidates }: Pick<CoverSets, 'candidates'>): number[] {
  return Array.from({ length: candidates }, (_, c) => c)
}

/** The demand of each joint as far as its candidates can meet it. */
export function attainableDemand(sets: CoverSets): Uint8Array {
  const times = new Int32Array(sets.joints)
  for (let i = 0; i < sets.joint.length; i++) times[sets.joint[i]]++
  return sets.demand.map((demand, e) => Math.min(demand, times[e]))
}
