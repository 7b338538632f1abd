import type { Stops } from './stops.ts'

/** A shortest tree through all stops, with what it weighs. */
export interface Tree {
  readonly weight: number
  /** Number of its edges at each stop. */
  readonly degree: Int32Array
}

/**
 * The lightest tree through all stops where an edge weighs its metres and the prices of both ends (Prim). O(count²) with
 * few exact distances: the metres in plan, which are never more, decide first.
 */
export function lightestTree({ count, xM, yM, distanceM }: Stops, price: Float64Array): Tree {
  const degree = new Int32Array(count)
  const parent = new Int32Array(count)
  const least = new Float64Array(count).fill(Infinity)
  const waiting = Int32Array.from({ length: count }, (_, k) => k)
  let left = count
  let weight = 0
  let at = 0
  let place = 0
  for (;;) {
    waiting[place] = waiting[--left]
    if (left === 0) break
    let next = 0
    for (let k = 0; k < left; k++) {
      const stop = waiting[k]
      const dearest = least[stop] - price[at] - price[stop]
      const dx = xM[at] - xM[stop]
      const dy = yM[at] - yM[stop]
      if (dearest > 0 && dx * dx + dy * dy < dearest * dearest) {
        const wayM = distanceM(at, stop)
        if (wayM < dearest) {
          least[stop] = wayM + price[at] + price[stop]
          parent[stop] = at
        }
      }
      if (least[stop] < least[waiting[next]]) next = k
    }
    place = next
    at = waiting[next]
    weight += least[at]
    degree[at]++
    degree[parent[at]]++
  }
  return { weight, degree }
}

/** Edges of a sparse graph by their ends and metres; it must hold together. */
export interface Edges {
  readonly a: Int32Array
  readonly b: Int32Array
  readonly wayM: Float64Array
}

/** As `lightestTree`, among the given edges only (Kruskal): no proof, but quick. O(edges log edges). */
export function lightestTreeAmong(count: number, { a, b, wayM }: Edges, price: Float64Array): Tree {
  const weights = Float64Array.from(wayM, (way, e) => way + price[a[e]] + price[b[e]])
  const order = Int32Array.from(wayM.keys())
  order.sort((e, f) => weights[e] - weights[f] || e - f)
  const parent = Int32Array.from({ length: count }, (_, k) => k)
  const find = (stop: number): number => {
    while (parent[stop] !== stop) stop = parent[stop] = parent[parent[stop]]
    return stop
  }
  const degree = new Int32Array(count)
  let weight = 0
  for (const e of order) {
    const [one, other] = [find(a[e]), find(b[e])]
    if (one === other) continue
    parent[one] = other
    weight += weights[e]
    degree[a[e]]++
    degree[b[e]]++
  }
  return { weight, degree }
}
