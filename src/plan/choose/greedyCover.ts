import { timesShownBy, type CoverSets } from './coverSets.ts'
import { lazyGreedy } from './lazyGreedy.ts'

/**
 * The greedy cover (Chvátal 1979, "A greedy heuristic for the set-covering problem", Mathematics of Operations Research 4:
 * 233–235): always the candidate with the most gain per cost. Gain: weights of the joints that it shows and that are
 * still short of their need. `need` is counted down; ends when no candidate gains. Returns what was taken, in order.
 */
export function greedyCover(
  sets: CoverSets,
  need: Uint8Array,
  options: {
    readonly weight?: ArrayLike<number>
    readonly cost?: ArrayLike<number>
    readonly without?: Uint8Array
  } = {},
): number[] {
  const { weight, cost, without } = options
  const { candidates, offset, joint } = sets
  const ratioOf = (c: number) => {
    let gain = 0
    for (let i = offset[c]; i < offset[c + 1]; i++)
      if (need[joint[i]] > 0) gain += weight ? weight[joint[i]] : 1
    return cost ? gain / cost[c] : gain
  }
  return lazyGreedy(
    candidates,
    (c) => (without?.[c] ? 0 : ratioOf(c)),
    (c) => {
      for (let i = offset[c]; i < offset[c + 1]; i++) if (need[joint[i]] > 0) need[joint[i]]--
      return true
    },
  )
}

/**
 * Leaves out, last taken first, every candidate without which all demands are still met. `order`: chosen candidates in
 * the order in which they are tried; others stay.
 */
export function withoutSpare(
  sets: CoverSets,
  demand: Uint8Array,
  chosen: readonly number[],
  order: readonly number[] = [...chosen].reverse(),
): number[] {
  const times = timesShownBy(sets, chosen)
  const { offset, joint } = sets
  const left = new Set<number>()
  for (const c of order) {
    let isSpare = true
    for (let i = offset[c]; i < offset[c + 1] && isSpare; i++) isSpare = times[joint[i]] > demand[joint[i]]
    if (!isSpare) continue
    left.add(c)
    for (let i = offset[c]; i < offset[c + 1]; i++) times[joint[i]]--
  }
  return chosen.filter((c) => !left.has(c))
}
