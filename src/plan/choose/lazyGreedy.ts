import { RatioHeap } from './ratioHeap.ts'

/**
 * Takes the candidate with the most gain again and again, where gains only fall as more is taken: a stale gain is a
 * bound, and most are never counted again (Minoux 1978, "Accelerated greedy algorithms"). Of equals the first. Ends
 * when `take` says that it was the last, or nothing gains. Returns what was taken, in order.
 */
export function lazyGreedy(
  candidates: number,
  gainOf: (c: number) => number,
  take: (c: number) => boolean,
): number[] {
  const heap = new RatioHeap(candidates)
  const least = 1e-12
  for (let c = 0; c < candidates; c++) {
    const gain = gainOf(c)
    if (gain > least) heap.push(c, gain)
  }
  const taken: number[] = []
  for (let c = heap.pop(); c >= 0; c = heap.pop()) {
    const gain = gainOf(c)
    if (gain <= least) continue
    if (heap.isAbove(c, gain)) {
      heap.push(c, gain)
      continue
    }
    taken.push(c)
    if (!take(c)) break
  }
  return taken
}
