/** So many stops are ordered exactly. */
export const mostExact = 9

/**
 * The shortest closed tour through up to `mostExact` stops, by dynamic programming over subsets (Held and Karp,
 * "A dynamic programming approach to sequencing problems", Journal of the Society for Industrial and Applied
 * Mathematics 10 (1962)). It begins with stop 0. O(2ⁿ n²).
 */
export function shortestTour(count: number, distanceM: (a: number, b: number) => number): Int32Array {
  if (count <= 3) return Int32Array.from({ length: count }, (_, k) => k)
  // stop 0 is the end of every path; subset s holds stops 1 … by bits 0 …
  const m = count - 1
  const size = 1 << m
  const bestM = new Float64Array(size * m).fill(Infinity)
  const from = new Int8Array(size * m).fill(-1)
  for (let k = 0; k < m; k++) bestM[(1 << k) * m + k] = distanceM(0, k + 1)
  for (let set = 1; set < size; set++) {
    for (let last = 0; last < m; last++) {
      const soFarM = bestM[set * m + last]
      if (soFarM === Infinity) continue
      for (let next = 0; next < m; next++) {
        if (set & (1 << next)) continue
        const at = (set | (1 << next)) * m + next
        const wayM = soFarM + distanceM(last + 1, next + 1)
        if (wayM < bestM[at]) {
          bestM[at] = wayM
          from[at] = last
        }
      }
    }
  }
  let set = size - 1
  let last = 0
  for (let k = 1; k < m; k++) {
    if (bestM[set * m + k] + distanceM(k + 1, 0) < bestM[set * m + last] + distanceM(last + 1, 0)) last = k
  }
  const order = new Int32Array(count)
  for (let k = m; k > 0; k--) {
    order[k] = last + 1
    const before = from[set * m + last]
    set &= ~(1 << last)
    last = before
  }
  return order
}
