import { nearestStops } from './neighbours.ts'
import { lightestTree, lightestTreeAmong, type Edges, type Tree } from './oneTree.ts'
import { tabulated, type Stops } from './stops.ts'

/** Up to so many stops every tree is proved; above, the prices are found on near edges and proved at the end. */
const mostProved = 400
const neighboursOfEach = 8
const stepsOfSmall = 200
const stepsOfLarge = 60
/** What rounding may have added, as a portion. */
const rounding = 1e-9

/**
 * No path through all stops, wherever it begins and ends, is shorter than this, in metres. `pathM`: the length of some
 * path, which only sets the size of the steps.
 *
 * Held and Karp's ascent ("The traveling-salesman problem and minimum spanning trees", Operations Research 18 (1970),
 * and part II, Mathematical Programming 1 (1971)): every stop gets a price, added to each edge that meets it. A path
 * pays every price twice but for its two ends; the lightest tree with the prices, and the two cheapest ends, less
 * twice all prices, is a lower bound at any prices. Stops where the tree has too many edges become dearer, those with too
 * few cheaper. A stop that is no metres from all others closes the path to a tour and is the special stop of
 * the 1-tree. Yields the fraction done.
 */
export function* pathBoundM(given: Stops, pathM: number, order: Int32Array): Generator<number, number> {
  const { count } = given
  if (count < 2) return 0
  const isSmall = count <= mostProved
  const stops = isSmall ? tabulated(given) : given
  const edges = isSmall ? null : nearEdges(stops, order)
  const price = new Float64Array(count)
  const best = { boundM: -Infinity, price: price.slice() }
  const steps = isSmall ? stepsOfSmall : stepsOfLarge
  let before: Int32Array | null = null
  let size = 1
  for (let step = 0; step < steps; step++) {
    const tree = edges ? lightestTreeAmong(count, edges, price) : lightestTree(stops, price)
    const { boundM, surplus } = oneTreeBound(tree, price)
    if (boundM > best.boundM) Object.assign(best, { boundM, price: price.slice() })
    else size *= 0.95
    let squares = 0
    for (const over of surplus) squares += over * over
    if (squares === 0 || pathM - best.boundM <= pathM * rounding) break
    // Held, Wolfe and Crowder 1974: the gap to a known tour over the square of the surplus
    const lengthM = (size * Math.max(pathM - boundM, 0.001 * pathM)) / squares
    for (let k = 0; k < count; k++) {
      price[k] += lengthM * (before ? 0.7 * surplus[k] + 0.3 * before[k] : surplus[k])
    }
    before = surplus
    yield ((step + 1) / steps) * 0.9
  }
  const proved = edges ? oneTreeBound(lightestTree(stops, best.price), best.price).boundM : best.boundM
  return Math.max(0, proved - rounding * Math.abs(pathM))
}

/** The bound at some prices, and by how many edges each stop has more than two. */
function oneTreeBound(
  { weight, degree }: Tree,
  price: Float64Array,
): { boundM: number; surplus: Int32Array } {
  const count = price.length
  let [first, second] = price[0] <= price[1] ? [0, 1] : [1, 0]
  let sum = 0
  for (let k = 0; k < count; k++) {
    sum += price[k]
    if (k < 2) continue
    if (price[k] < price[first]) [first, second] = [k, first]
    else if (price[k] < price[second]) second = k
  }
  const surplus = degree.map((edges) => edges - 2)
  surplus[first]++
  surplus[second]++
  return { boundM: weight + price[first] + price[second] - 2 * sum, surplus }
}

/** Edges between near stops, and those of a path, so that all hold together. */
function nearEdges(stops: Stops, order: Int32Array): Edges {
  const { count, distanceM } = stops
  const near = nearestStops(stops, neighboursOfEach)
  const a: number[] = []
  const b: number[] = []
  const wayM: number[] = []
  for (let k = 1; k < count; k++) {
    a.push(order[k - 1])
    b.push(order[k])
    wayM.push(distanceM(order[k - 1], order[k]))
  }
  for (let stop = 0; stop < count; stop++) {
    for (let k = stop * near.width; k < (stop + 1) * near.width && near.stops[k] >= 0; k++) {
      a.push(stop)
      b.push(near.stops[k])
      wayM.push(near.distanceM[k])
    }
  }
  return { a: Int32Array.from(a), b: Int32Array.from(b), wayM: Float64Array.from(wayM) }
}
