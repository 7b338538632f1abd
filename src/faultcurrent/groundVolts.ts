import type { SoilLeaks } from '../network/soilLeaks.ts'
import { surfaceOf, type Surface } from './surfaceVolts.ts'

/** Points of a grid: `across` in a row from the corner with least x and y, `high` rows. */
export interface GroundGrid {
  readonly fromM: { readonly x: number; readonly y: number }
  readonly stepM: number
  readonly across: number
  readonly high: number
  /** Metres over which leaks are spread in the picture (`surfaceOf`), not in the largest step. */
  readonly blurM?: number
}

/** Volts of the ground at the points of a grid, row by row, and the largest step of one metre. */
export interface GroundVolts {
  readonly volt: Float64Array
  readonly mostStepV: number
  readonly mostStepAtM: { readonly x: number; readonly y: number }
}

/** Points of a portion of work, and candidates for the largest step. */
const pointsAtOnce = 256
const mostSteepest = 64
const mostStrongest = 64

/**
 * Volts of the ground surface on a grid. The largest step is looked for straight downhill from the steepest points of the
 * grid, and from the edge of the strongest leaks within its frame. O(points · √leaks). Yields the fraction done.
 */
export function* groundVolts(leaks: SoilLeaks, grid: GroundGrid): Generator<number, GroundVolts> {
  const { fromM, stepM, across, high, blurM = 0 } = grid
  const surface = surfaceOf(leaks)
  const shown = blurM > 0 ? surfaceOf(leaks, blurM) : surface
  const volt = new Float64Array(across * high)
  const steep = new Float64Array(volt.length)
  const fill = (first: number, end: number) => {
    for (let k = first; k < end; k++) {
      const at = shown(fromM.x + (k % across) * stepM, fromM.y + Math.floor(k / across) * stepM)
      volt[k] = at.volt
      steep[k] = Math.hypot(at.east, at.north)
    }
  }
  for (let first = 0; first < volt.length; first += pointsAtOnce) {
    fill(first, Math.min(volt.length, first + pointsAtOnce))
    yield (0.9 * first) / volt.length
  }
  const starts = [...strongestEdges(leaks, grid), ...steepestPoints(grid, steep)]
  const most = { stepV: 0, atM: { x: 0, y: 0 } }
  for (let first = 0; first < starts.length; first += pointsAtOnce / 4) {
    for (const start of starts.slice(first, first + pointsAtOnce / 4)) stepFrom(surface, start, most)
    yield 0.9 + (0.1 * first) / starts.length
  }
  return { volt, mostStepV: most.stepV, mostStepAtM: most.atM }
}

interface Point {
  readonly x: number
  readonly y: number
}

/** A point to begin a metre at, and a way to walk it besides straight downhill. */
interface Start extends Point {
  readonly turn: number
}

function steepestPoints({ fromM, stepM, across }: GroundGrid, steep: Float64Array): Start[] {
  const order = indicesOfLargest(steep, mostSteepest)
  return order.map((k) => {
    return { x: fromM.x + (k % across) * stepM, y: fromM.y + Math.floor(k / across) * stepM, turn: 0 }
  })
}

/** Points at the edge of leaks inside the frame, in eight directions each. */
function strongestEdges(leaks: SoilLeaks, { fromM, stepM, across, high }: GroundGrid): Start[] {
  const { xM, yM, radiusM, leakA } = leaks
  const isInside = (p: number) =>
    xM[p] >= fromM.x &&
    yM[p] >= fromM.y &&
    xM[p] <= fromM.x + (across - 1) * stepM &&
    yM[p] <= fromM.y + (high - 1) * stepM
  const size = leakA.map((i, p) => (isInside(p) ? Math.abs(i) : 0))
  return indicesOfLargest(size, mostStrongest).flatMap((p) =>
    eighths.map((turn) => ({
      x: xM[p] + radiusM[p] * Math.cos(turn),
      y: yM[p] + radiusM[p] * Math.sin(turn),
      turn,
    })),
  )
}

const eighths = Array.from({ length: 8 }, (_, k) => (k * Math.PI) / 4)

function indicesOfLargest(values: Float64Array, most: number): number[] {
  const sorted = values.slice().sort()
  const least = sorted[Math.max(0, sorted.length - most)]
  const found: number[] = []
  for (let k = 0; k < values.length && found.length < 2 * most; k++)
    if (values[k] > 0 && values[k] >= least) found.push(k)
  return found
}

/** The volts that one metre spans from a point, straight downhill, uphill or its own way, put down where they are the most. */
function stepFrom(surface: Surface, { x, y, turn }: Start, most: { stepV: number; atM: Point }): void {
  const { volt, east, north } = surface(x, y)
  const uphill = Math.atan2(north, east)
  for (const way of [turn, uphill, uphill + Math.PI]) {
    const end = { x: x + Math.cos(way), y: y + Math.sin(way) }
    const step = volt - surface(end.x, end.y).volt
    if (Math.abs(step) <= most.stepV) continue
    most.stepV = Math.abs(step)
    most.atM = step > 0 ? { x, y } : end
  }
}
