import type { Stops } from './stops.ts'

/** The nearest other stops of each stop on foot, nearest first: those of stop s at s·width …, −1 where there are fewer. */
export interface Neighbours {
  readonly width: number
  readonly stops: Int32Array
  readonly distanceM: Float64Array
}

/** Up to so many stops all others are looked at. */
const mostComplete = 150
/** Of each stop so many are looked at: nearest in plan, and on either side along its line. */
const nearInPlan = 24
const nearAlongLine = 6

/**
 * The `width` nearest of each stop on foot, among those near in plan and those next along its line: a stop on the other
 * side of a row of tables is near in plan and far on foot. Exact for few stops. About O(count · nearInPlan).
 */
export function nearestStops(stops: Stops, width: number): Neighbours {
  const { count, distanceM } = stops
  const result: Neighbours = {
    width,
    stops: new Int32Array(count * width).fill(-1),
    distanceM: new Float64Array(count * width).fill(Infinity),
  }
  if (count <= mostComplete) {
    for (let a = 0; a < count; a++) {
      for (let b = 0; b < count; b++) if (b !== a) keep(result, a, b, distanceM(a, b))
    }
    return result
  }
  const lines = alongLines(stops)
  const grid = gridOf(stops)
  const seen = new Int32Array(count).fill(-1)
  for (let a = 0; a < count; a++) {
    seen[a] = a
    const look = (b: number) => {
      if (seen[b] === a) return
      seen[b] = a
      keep(result, a, b, distanceM(a, b))
    }
    for (const b of lines(a)) look(b)
    for (const b of nearestInPlan(stops, grid, a)) look(b)
  }
  return result
}

/** Puts a stop into the sorted list of another one, ties by number. */
function keep({ width, stops, distanceM }: Neighbours, a: number, b: number, wayM: number): void {
  const start = a * width
  let k = start + width - 1
  if (wayM > distanceM[k] || (wayM === distanceM[k] && stops[k] >= 0)) return
  for (; k > start && wayM < distanceM[k - 1]; k--) {
    distanceM[k] = distanceM[k - 1]
    stops[k] = stops[k - 1]
  }
  distanceM[k] = wayM
  stops[k] = b
}

function alongLines({ count, line, alongM }: Stops): (stop: number) => Int32Array {
  const sorted = Int32Array.from({ length: count }, (_, k) => k)
  sorted.sort((a, b) => line[a] - line[b] || alongM[a] - alongM[b] || a - b)
  const place = new Int32Array(count)
  sorted.forEach((stop, k) => (place[stop] = k))
  const none = new Int32Array(0)
  return (stop) => {
    if (line[stop] < 0) return none
    let from = place[stop]
    let to = place[stop]
    while (from > 0 && place[stop] - from < nearAlongLine && line[sorted[from - 1]] === line[stop]) from--
    while (to + 1 < count && to - place[stop] < nearAlongLine && line[sorted[to + 1]] === line[stop]) to++
    return sorted.subarray(from, to + 1)
  }
}

/** Square cells of some two stops each: those of cell c at start[c] … start[c + 1] − 1. */
interface Grid {
  readonly cellM: number
  readonly columns: number
  readonly rows: number
  readonly minX: number
  readonly minY: number
  readonly start: Int32Array
  readonly stops: Int32Array
}

function gridOf({ count, xM, yM }: Stops): Grid {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity]
  for (let s = 0; s < count; s++) {
    minX = Math.min(minX, xM[s])
    maxX = Math.max(maxX, xM[s])
    minY = Math.min(minY, yM[s])
    maxY = Math.max(maxY, yM[s])
  }
  const [widthM, heightM] = [maxX - minX, maxY - minY]
  const cellM = Math.max(
    Math.sqrt((2 * widthM * heightM) / count),
    (2 * Math.max(widthM, heightM)) / count,
    1e-3,
  )
  const columns = Math.floor(widthM / cellM) + 1
  const rows = Math.floor(heightM / cellM) + 1
  const cellOf = (s: number) =>
    Math.floor((yM[s] - minY) / cellM) * columns + Math.floor((xM[s] - minX) / cellM)
  const start = new Int32Array(columns * rows + 1)
  for (let s = 0; s < count; s++) start[cellOf(s) + 1]++
  for (let c = 0; c < columns * rows; c++) start[c + 1] += start[c]
  const next = start.slice()
  const inCells = new Int32Array(count)
  for (let s = 0; s < count; s++) inCells[next[cellOf(s)]++] = s
  return { cellM, columns, rows, minX, minY, start, stops: inCells }
}

/** About the nearest in plan: ring after ring of cells, one ring more than was needed to find enough. */
function nearestInPlan({ xM, yM }: Stops, grid: Grid, stop: number): readonly number[] {
  const { cellM, columns, rows, minX, minY, start, stops } = grid
  const cx = Math.floor((xM[stop] - minX) / cellM)
  const cy = Math.floor((yM[stop] - minY) / cellM)
  const found: number[] = []
  const most = Math.max(columns, rows)
  let last = most
  for (let ring = 0; ring <= last; ring++) {
    for (let y = Math.max(cy - ring, 0); y <= Math.min(cy + ring, rows - 1); y++) {
      const step = Math.abs(y - cy) === ring ? 1 : Math.max(2 * ring, 1)
      for (let x = cx - ring; x <= cx + ring; x += step) {
        if (x < 0 || x >= columns) continue
        const c = y * columns + x
        for (let k = start[c]; k < start[c + 1]; k++) if (stops[k] !== stop) found.push(stops[k])
      }
    }
    if (found.length >= nearInPlan && last === most) last = Math.min(ring + 1, most)
  }
  const squareM2 = (b: number) => (xM[b] - xM[stop]) ** 2 + (yM[b] - yM[stop]) ** 2
  return found.sort((a, b) => squareM2(a) - squareM2(b) || a - b).slice(0, nearInPlan)
}
