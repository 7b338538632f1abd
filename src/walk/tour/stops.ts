/**
 * Places on a walk, numbered from 0, and the metric between them. The metric is symmetric, keeps the triangle
 * inequality, and is never below the straight distance between the two places in plan.
 */
export interface Stops {
  readonly count: number
  /** Plan metres. */
  readonly xM: Float64Array
  readonly yM: Float64Array
  /** Stops that a walker finds one after the other along a line: its number, −1 for none, and the place along it. */
  readonly line: Int32Array
  readonly alongM: Float64Array
  /** Metres on foot between two stops; 0 from a stop to itself. */
  readonly distanceM: (a: number, b: number) => number
}

/** Stops on open ground, straight lines between them. O(1) per distance. */
export function straightStops(xM: Float64Array, yM: Float64Array): Stops {
  return {
    count: xM.length,
    xM,
    yM,
    line: new Int32Array(xM.length).fill(-1),
    alongM: new Float64Array(xM.length),
    distanceM: (a, b) => Math.hypot(xM[a] - xM[b], yM[a] - yM[b]),
  }
}

/** The same metric on some of the stops: number k of the result is number `chosen[k]` of `stops`. */
export function someStops(stops: Stops, chosen: Int32Array): Stops {
  const take = (of: Float64Array) => Float64Array.from(chosen, (stop) => of[stop])
  return {
    count: chosen.length,
    xM: take(stops.xM),
    yM: take(stops.yM),
    line: Int32Array.from(chosen, (stop) => stops.line[stop]),
    alongM: take(stops.alongM),
    distanceM: (a, b) => stops.distanceM(chosen[a], chosen[b]),
  }
}

/** So many stops have all their distances in one table: 8 bytes for each pair. */
const mostTabulated = 1200

/** The same stops with their distances in a table, where they are few enough. O(count²), then O(1) per distance. */
export function tabulated(stops: Stops): Stops {
  const { count, distanceM } = stops
  if (count > mostTabulated) return stops
  const table = new Float64Array(count * count)
  for (let a = 0; a < count; a++) {
    for (let b = 0; b < a; b++) table[a * count + b] = table[b * count + a] = distanceM(a, b)
  }
  return { ...stops, distanceM: (a, b) => table[a * count + b] }
}
