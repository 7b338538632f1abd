import { portion } from '../../base/portion.ts'
import { greedyPath } from './construct.ts'
import { improveTour } from './improve.ts'
import { nearestStops, type Neighbours } from './neighbours.ts'
import { mostExact, shortestTour } from './smallTour.ts'
import { tabulated, type Stops } from './stops.ts'

const neighboursOfEach = 10

/**
 * A short way through all stops that begins and ends anywhere: shortest for up to eight stops, else greedy edges
 * improved by 2-opt and Or-opt. Determinate. Yields the fraction done.
 */
export function* shortPath(given: Stops): Generator<number, Int32Array> {
  const stops = tabulated(given)
  const { count } = stops
  // a stop that is no metres from all others stands between end and beginning
  const nowhere = count
  const distanceM = (a: number, b: number) => (a === nowhere || b === nowhere ? 0 : stops.distanceM(a, b))
  const closed = yield* shortRing(stops, count + 1, distanceM)
  const at = closed.indexOf(nowhere)
  return Int32Array.from({ length: count }, (_, k) => closed[(at + 1 + k) % (count + 1)])
}

/** A short closed tour through all stops, beginning with stop 0; shortest for up to nine. */
export function* shortTour(given: Stops): Generator<number, Int32Array> {
  const stops = tabulated(given)
  const { count } = stops
  const closed = yield* shortRing(stops, count, stops.distanceM)
  const at = closed.indexOf(0)
  return Int32Array.from({ length: count }, (_, k) => closed[(at + k) % count])
}

function* shortRing(
  stops: Stops,
  size: number,
  distanceM: (a: number, b: number) => number,
): Generator<number, Int32Array> {
  if (size <= mostExact) return shortestTour(size, distanceM)
  const near = nearestStops(stops, neighboursOfEach)
  yield 0.3
  const path = greedyPath(stops, neighboursOfEach)
  yield 0.5
  const order = Int32Array.from({ length: size }, (_, k) => path[k] ?? k)
  return yield* portion(improveTour(order, distanceM, withRoom(near, size)), 0.5, 0.5)
}

/** Lists for as many stops as the tour has: none for a stop that is nowhere. */
function withRoom(near: Neighbours, size: number): Neighbours {
  const stops = new Int32Array(size * near.width).fill(-1)
  stops.set(near.stops)
  const distanceM = new Float64Array(size * near.width).fill(Infinity)
  distanceM.set(near.distanceM)
  return { ...near, stops, distanceM }
}

/** Metres along stops in an order, and back to the first one where it is closed. */
export function lengthOfM(
  order: ArrayLike<number>,
  { distanceM }: Pick<Stops, 'distanceM'>,
  isClosed: boolean,
): number {
  let sumM = 0
  for (let k = 1; k < order.length; k++) sumM += distanceM(order[k - 1], order[k])
  return isClosed && order.length > 1 ? sumM + distanceM(order[order.length - 1], order[0]) : sumM
}
