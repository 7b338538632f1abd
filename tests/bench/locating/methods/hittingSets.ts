/**
 * All hitting sets of smallest size: sets of elements that meet every one of the given sets. By size upwards,
 * branching on the first set that is not met; at most `most` of them are given. Empty for no sets: one empty
 * set. A set without elements cannot be met: no result.
 */
export function smallestHittingSets(sets: readonly ReadonlySet<number>[], most = 5000): number[][] {
  if (sets.some((set) => set.size === 0)) return []
  for (let size = 0; size <= sets.length; size++) {
    const found = new Map<string, number[]>()
    const extend = (chosen: readonly number[]): void => {
      if (found.size >= most) return
      const open = sets.find((set) => !chosen.some((element) => set.has(element)))
      if (!open) {
        const sorted = [...chosen].sort((a, b) => a - b)
        found.set(sorted.join(' '), sorted)
        return
      }
      if (chosen.length === size) return
      for (const element of open) extend([...chosen, element])
    }
    extend([])
    if (found.size > 0) return [...found.values()]
  }
  return []
}
