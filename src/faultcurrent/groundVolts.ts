import type { SoilLeaks } from '../network/soilLeaks.ts'
import { surfaceOf } from './surfaceVolts.ts'

/** Points of a grid: `across` in a row from the corner with least x and y, `high` rows. */
export interface GroundGrid {
  readonly fromM: { readonly x: number; readonly y: number }
  readonly stepM: number
  readonly across: number
  readonly high: number
  /** Metres over which leaks are spread (`surfaceOf`). */
  readonly blurM?: number
}

/** Points of a portion of work. */
const pointsAtOnce = 256

/**
 * Volts of the ground surface at the points of a grid, row by row, to remote earth. O(points · log leaks). Yields the fraction
 * done.
 */
export function* groundVolts(leaks: SoilLeaks, grid: GroundGrid): Generator<number, Float64Array> {
  const { fromM, stepM, across, high, blurM = 0 } = grid
  const surface = surfaceOf(leaks, blurM)
  const volt = new Float64Array(across * high)
  const fill = (first: number, end: number) => {
    for (let k = first; k < end; k++)
      volt[k] = surface(fromM.x + (k % across) * stepM, fromM.y + Math.floor(k / across) * stepM)
  }
  for (let first = 0; first < volt.length; first += pointsAtOnce) {
    fill(first, Math.min(volt.length, first + pointsAtOnce))
    yield first / volt.length
  }
  return volt
}
