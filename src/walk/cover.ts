/**
 * Few points that have every pair at one of their ends (a vertex cover): where first clips go. Where a point has one
 * pair left its partner is taken, which is always right; where none has, the point with the most pairs left is; points
 * whose pairs all have a second one in the cover are left out in the end. On trees, paths and rings that is the fewest.
 * Pairs join the points `from[k]` and `to[k]`, 0 … count − 1. Ties go to the lower number. O(pairs log pairs).
 */
export function fewPoints(count: number, from: Int32Array, to: Int32Array): Uint8Array {
  const { start, partner } = partnersOf(count, from, to)
  const left = Int32Array.from({ length: count }, (_, p) => start[p + 1] - start[p])
  const isTaken = new Uint8Array(count)
  const order: number[] = []
  const single: number[] = []
  for (let p = count - 1; p >= 0; p--) if (left[p] === 1) single.push(p)
  const buckets = bucketsBy(left)
  const take = (point: number) => {
    isTaken[point] = 1
    order.push(point)
    left[point] = 0
    for (let k = start[point]; k < start[point + 1]; k++) {
      const other = partner[k]
      if (isTaken[other] === 1) continue
      left[other]--
      if (left[other] === 1) single.push(other)
      else if (left[other] > 1) buckets.put(other, left[other])
    }
  }
  for (;;) {
    const leaf = single.pop()
    if (leaf === undefined) {
      const dearest = buckets.take((point, pairs) => left[point] === pairs)
      if (dearest < 0) break
      take(dearest)
    } else if (left[leaf] === 1) {
      for (let k = start[leaf]; k < start[leaf + 1]; k++) {
        if (isTaken[partner[k]] === 0) {
          take(partner[k])
          break
        }
      }
    }
  }
  for (const point of order.reverse()) {
    let isNeeded = false
    for (let k = start[point]; k < start[point + 1] && !isNeeded; k++) isNeeded = isTaken[partner[k]] === 0
    if (!isNeeded) isTaken[point] = 0
  }
  return isTaken
}

/** The different partners of each point: those of point p at start[p] … start[p + 1] − 1. */
function partnersOf(
  count: number,
  from: Int32Array,
  to: Int32Array,
): { readonly start: Int32Array; readonly partner: Int32Array } {
  const sets = Array.from({ length: count }, () => new Set<number>())
  from.forEach((a, k) => {
    sets[a].add(to[k])
    sets[to[k]].add(a)
  })
  const start = new Int32Array(count + 1)
  for (let p = 0; p < count; p++) start[p + 1] = start[p] + sets[p].size
  const partner = new Int32Array(start[count])
  sets.forEach((of, p) =>
    partner.set(
      [...of].sort((a, b) => a - b),
      start[p],
    ),
  )
  return { start, partner }
}

/** Points by the number of pairs they had when they were put in, the most first, last put first. */
function bucketsBy(left: Int32Array): {
  put(point: number, pairs: number): void
  take(isStill: (point: number, pairs: number) => boolean): number
} {
  const buckets: number[][] = []
  const put = (point: number, pairs: number) => (buckets[pairs] ??= []).push(point)
  for (let p = left.length - 1; p >= 0; p--) if (left[p] > 1) put(p, left[p])
  let top = buckets.length - 1
  return {
    put,
    take(isStill) {
      for (; top > 1; top--) {
        for (let p = buckets[top]?.pop(); p !== undefined; p = buckets[top].pop()) {
          if (isStill(p, top)) return p
        }
      }
      return -1
    },
  }
}
