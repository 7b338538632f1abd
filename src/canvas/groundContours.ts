import { contours } from 'd3'
import type { GroundPicture } from '../state/mapMarks.ts'
import type { PointM } from '../model/schema/primitives.ts'
import { voltSteps } from './voltSteps.ts'

/** Where the ground has as many volts as one of the steps. */
export interface GroundContour {
  /** Which step: an index into `voltSteps`. */
  readonly step: number
  /** Areas with so many volts or more, in metres: an outer ring and its holes one after the other, closed. */
  readonly rings: readonly (readonly PointM[])[]
  /** The lines alone, without what runs along the frame of the picture. */
  readonly lines: readonly (readonly PointM[])[]
}

const known = new WeakMap<Float32Array, readonly GroundContour[]>()

/** Lines of equal volts, by marching squares (Lorensen and Cline 1987 in the plane; d3-contour). Kept for each picture. */
export function groundContours(ground: GroundPicture): readonly GroundContour[] {
  const before = known.get(ground.volt)
  if (before) return before
  const made = makeContours(ground)
  known.set(ground.volt, made)
  return made
}

function makeContours({ fromM, stepM, across, high, volt }: GroundPicture): readonly GroundContour[] {
  // what gives off current and what takes it have volts of either sign: as far from nothing counts the same
  const sizes = Array.from(volt, Math.abs)
  const most = sizes.reduce((a, b) => Math.max(a, b), 0)
  const reached = voltSteps.filter((step) => step <= most)
  // a value of the grid stands in the middle of its cell
  const toPlan = ([x, y]: number[]): PointM => ({
    x: fromM.x + (x - 0.5) * stepM,
    y: fromM.y + (y - 0.5) * stepM,
  })
  // beyond the outermost values there is nothing: rings close there
  const isBeyond = ([x, y]: number[]) => x < 0.5 || y < 0.5 || x > across - 0.5 || y > high - 0.5
  return contours()
    .size([across, high])
    .thresholds([...reached])(sizes)
    .map(({ coordinates }, step) => {
      const rings = coordinates.flat()
      return {
        step,
        rings: rings.map((ring) => ring.map(toPlan)),
        lines: rings.flatMap((ring) => openLines(ring, isBeyond)).map((line) => line.map(toPlan)),
      }
    })
}

/** A ring cut where it runs beyond the frame. */
function openLines(ring: readonly number[][], isBeyond: (point: number[]) => boolean): readonly number[][][] {
  const lines: number[][][] = []
  let line: number[][] = []
  for (let k = 0; k + 1 < ring.length; k++) {
    if (isBeyond(ring[k]) || isBeyond(ring[k + 1])) {
      if (line.length > 1) lines.push(line)
      line = []
      continue
    }
    if (line.length === 0) line.push(ring[k])
    line.push(ring[k + 1])
  }
  if (line.length > 1) lines.push(line)
  return lines
}
