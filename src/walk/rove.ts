import { wholly } from '../base/portion.ts'
import { tourBoundM } from './tour/bound.ts'
import { mostExact, shortestTour } from './tour/smallTour.ts'
import { someStops, type Stops } from './tour/stops.ts'
import { lengthOfM, shortTour } from './tour/tour.ts'

/** A round from the first clip of a set-up to the far ends of its pairs and back. */
export interface Rove {
  /** Places in `far`, in walking order. */
  readonly order: readonly number[]
  readonly wayM: number
  /** No such round is shorter. */
  readonly boundM: number
}

/**
 * A short round: the shortest with up to eight different far ends. Pairs to the same far end follow each other. Of the
 * two ways round it, the one that comes to the lower numbered far end first.
 */
export function rove(stops: Stops, at: number, far: readonly number[]): Rove {
  const chosen = Int32Array.from([at, ...new Set(far)])
  const round = someStops(stops, chosen)
  const isExact = chosen.length <= mostExact
  const tour = isExact ? shortestTour(chosen.length, round.distanceM) : wholly(shortTour(round))
  const wayM = lengthOfM(tour, round, true)
  const ends = Array.from(tour.subarray(1), (k) => chosen[k])
  if (ends[0] > ends[ends.length - 1]) ends.reverse()
  const order = ends.flatMap((end) => far.flatMap((point, k) => (point === end ? [k] : [])))
  const boundM = isExact ? wayM : wholly(tourBoundM(round, wayM, tour))
  return { order, wayM, boundM }
}
