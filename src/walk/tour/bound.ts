import { portion, wholly } from '../../base/portion.ts'
import { nearestStops } from './neighbours.ts'
import { lightestTree, lightestTreeAmong, type NearGraph, type Tree } from './oneTree.ts'
import { someStops, tabulated, type Stops } from './stops.ts'

/** Up to so many stops every tree is proved; above, the prices are found on near stops only and proved at the end. */
const mostProved = 400
const neighboursOfEach = 8
const stepsOfSmall = 200
const stepsOfLarge = 60
/** What rounding may have added, as a portion, and in metres. */
const rounding = 1e-9
const roundingM = 1e-9

/**
 * No path through all stops, wherever it begins and ends, is shorter than this, in metres. `pathM`: the length of some
 * path, `order`, which only set the steps. Yields the fraction done.
 */
export function* pathBoundM(stops: Stops, pathM: number, order: Int32Array): Generator<number, number> {
  if (stops.count < 2) return 0
  return yield* ascend(stops, new Float64Array(stops.count), pathM, order)
}

/** No closed tour through all stops is shorter than this, in metres; `order` begins with stop 0. */
export function* tourBoundM(stops: Stops, tourM: number, order: Int32Array): Generator<number, number> {
  const { count, distanceM } = stops
  if (count < 3) return count === 2 ? 2 * distanceM(0, 1) : 0
  const others = Int32Array.from({ length: count - 1 }, (_, k) => k + 1)
  const toFirstM = Float64Array.from(others, (stop) => distanceM(0, stop))
  return yield* ascend(
    someStops(stops, others),
    toFirstM,
    tourM,
    order.subarray(1).map((stop) => stop - 1),
  )
}

/**
 * Held and Karp's ascent ("The traveling-salesman problem and minimum spanning trees", Operations Research 18 (1970),
 * and part II, Mathematical Programming 1 (1971)): every stop gets a price, added to each edge that meets it. A
 * tour pays every price twice; the lightest tree through all stops but a special one, and the two lightest edges from there,
 * less twice all prices, weigh no more, at any prices. Stops where they have too many edges become dearer, those with too
 * few cheaper. `specialM`: metres from the special stop to each; a path becomes a tour by one that is 0 m from all.
 */
function* ascend(
  given: Stops,
  specialM: Float64Array,
  lengthM: number,
  order: Int32Array,
): Generator<number, number> {
  const { count } = given
  const isSmall = count <= mostProved
  const stops = isSmall ? tabulated(given) : given
  const near = isSmall ? null : nearGraph(stops, order)
  const price = new Float64Array(count)
  const best = { boundM: -Infinity, price: price.slice() }
  const steps = isSmall ? stepsOfSmall : stepsOfLarge
  let before: Int32Array | null = null
  let size = 1
  for (let step = 0; step < steps; step++) {
    const tree = near ? lightestTreeAmong(near, price) : wholly(lightestTree(stops, price))
    const { boundM, surplus } = oneTreeBound(tree, price, specialM)
    if (boundM > best.boundM) Object.assign(best, { boundM, price: price.slice() })
    else size *= 0.95
    let squares = 0
    for (const over of surplus) squares += over * over
    if (squares === 0 || lengthM - best.boundM <= lengthM * rounding) break
    // Held, Wolfe and Crowder 1974: the gap to a known tour over the square of the surplus
    const stepM = (size * Math.max(lengthM - boundM, 0.001 * lengthM)) / squares
    for (let k = 0; k < count; k++) {
      price[k] += stepM * (before ? 0.7 * surplus[k] + 0.3 * before[k] : surplus[k])
    }
    before = surplus
    yield ((step + 1) / steps) * (near ? 0.5 : 1)
  }
  const proved = near ? yield* portion(provedM(stops, near, best.price, specialM), 0.5, 0.5) : best.boundM
  return Math.max(0, proved - rounding * lengthM - roundingM)
}

/** The bound at prices that were found among near stops only. */
function* provedM(
  stops: Stops,
  near: NearGraph,
  price: Float64Array,
  specialM: Float64Array,
): Generator<number, number> {
  const tree = yield* lightestTree(stops, price, lightestTreeAmong(near, price))
  return oneTreeBound(tree, price, specialM).boundM
}

/** The bound at some prices, and by how many edges each stop has more than two. */
function oneTreeBound(
  { weight, degree }: Tree,
  price: Float64Array,
  specialM: Float64Array,
): { boundM: number; surplus: Int32Array } {
  const edgeM = (stop: number) => specialM[stop] + price[stop]
  let [first, second] = edgeM(0) <= edgeM(1) ? [0, 1] : [1, 0]
  let sum = price[0] + price[1]
  for (let k = 2; k < price.length; k++) {
    sum += price[k]
    if (edgeM(k) < edgeM(first)) [first, second] = [k, first]
    else if (edgeM(k) < edgeM(second)) second = k
  }
  const surplus = degree.map((edges) => edges - 2)
  surplus[first]++
  surplus[second]++
  return { boundM: weight + edgeM(first) + edgeM(second) - 2 * sum, surplus }
}

/** Near stops of each and its neighbours on a path, so that all hang together. */
function nearGraph({ count, distanceM, ...stops }: Stops, order: Int32Array): NearGraph {
  const near = nearestStops({ count, distanceM, ...stops }, neighboursOfEach)
  const lists: number[][] = Array.from({ length: count }, () => [])
  for (let k = 1; k < count; k++) lists[order[k - 1]].push(order[k])
  for (let stop = 0; stop < count; stop++) {
    for (let k = stop * near.width; k < (stop + 1) * near.width && near.stops[k] >= 0; k++) {
      lists[stop].push(near.stops[k])
    }
  }
  const degree = new Int32Array(count + 1)
  lists.forEach((to, stop) => {
    degree[stop + 1] += to.length
    for (const other of to) degree[other + 1]++
  })
  for (let k = 0; k < count; k++) degree[k + 1] += degree[k]
  const next = degree.slice()
  const to = new Int32Array(degree[count])
  const wayM = new Float64Array(degree[count])
  lists.forEach((others, stop) => {
    for (const other of others) {
      const way = distanceM(stop, other)
      to[next[stop]] = other
      wayM[next[stop]++] = way
      to[next[other]] = stop
      wayM[next[other]++] = way
    }
  })
  return { start: degree, to, wayM }
}
