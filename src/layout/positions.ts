import { assert } from '../base/assert.ts'
import type { PointM } from '../model/schema/primitives.ts'
import { middleOfPath } from './path.ts'
import { partInTable, patternOfRun } from './partIndex.ts'
import type { SiteIndex } from './siteIndex.ts'

/**
 * Where the tables of one run stand in plan: table t of the run has its lower outer corner at
 * corner + t · step; inside it, x metres along and y metres up the slope (seen in plan) add
 * x · along + y · up. `along` is the row's direction, `up` points to its left.
 *
 *       up
 *       ^   ┌────────┐ ┌────────┐
 *       |   └────────┘ └────────┘
 *    corner ──> along           north is +y, east is +x, bearings turn clockwise from north
 */
export interface RunFrame {
  readonly corner: PointM
  readonly step: PointM
  readonly along: PointM
  readonly up: PointM
}

/** O(1). */
export function runFrame(index: SiteIndex, run: number): RunFrame {
  const { runs } = index.rows
  const row = index.drawing.rows[runs.row[run]]
  const bearing = (row.bearingDeg * Math.PI) / 180
  const along = { x: Math.sin(bearing), y: Math.cos(bearing) }
  const startM = runs.alongM[run]
  const stepM = patternOfRun(index, run).size.alongM + row.gapM
  return {
    corner: { x: row.originM.x + startM * along.x, y: row.originM.y + startM * along.y },
    step: { x: stepM * along.x, y: stepM * along.y },
    along,
    up: { x: -along.y, y: along.x },
  }
}

/** Where a part is in plan, in metres; null for remote earth, which is nowhere. O(log runs). */
export function partPositionM(index: SiteIndex, part: number): PointM | null {
  assert(part >= 0 && part <= index.partCount, `there is no part ${part}`)
  if (part === index.remoteEarth) return null
  if (part >= index.enclosureStart) return itemPositionM(index, part)
  const { run, place, local } = partInTable(index, part)
  const { xM, yM } = patternOfRun(index, run)
  const { corner, step, along, up } = runFrame(index, run)
  return {
    x: corner.x + place * step.x + xM[local] * along.x + yM[local] * up.x,
    y: corner.y + place * step.y + xM[local] * along.y + yM[local] * up.y,
  }
}

function itemPositionM(index: SiteIndex, part: number): PointM {
  const { drawing, conductors } = index
  if (part < index.earthBarStart) return drawing.enclosures[part - index.enclosureStart].atM
  if (part < index.electrodeStart) return drawing.earthBars[part - index.earthBarStart].atM
  if (part < index.conductorStart) {
    const electrode = drawing.electrodes[part - index.electrodeStart]
    return electrode.form === 'strip' ? middleOfPath(electrode.pathM, electrode.closed) : electrode.atM
  }
  const p = part - index.conductorStart
  return drawing.conductors[conductors.conductor[p]].points[conductors.place[p]].atM
}

/**
 * Positions of all parts relative to `originM`, as x₀ y₀ x₁ y₁ …; `out` holds 2 · partCount numbers.
 * Single precision keeps 0.1 mm up to 1 km from the origin. O(parts).
 */
export function fillPartPositions(index: SiteIndex, originM: PointM, out: Float32Array): Float32Array {
  assert(out.length === 2 * index.partCount, `${index.partCount} positions do not fill ${out.length} numbers`)
  const { runs } = index.rows
  let n = 0
  for (let run = 0; run < runs.count.length; run++) {
    const { xM, yM, partCount } = patternOfRun(index, run)
    const { corner, step, along, up } = runFrame(index, run)
    for (let t = 0; t < runs.count[run]; t++) {
      const x0 = corner.x + t * step.x - originM.x
      const y0 = corner.y + t * step.y - originM.y
      for (let p = 0; p < partCount; p++) {
        out[n++] = x0 + xM[p] * along.x + yM[p] * up.x
        out[n++] = y0 + xM[p] * along.y + yM[p] * up.y
      }
    }
  }
  for (let part = index.enclosureStart; part < index.partCount; part++) {
    const at = itemPositionM(index, part)
    out[n++] = at.x - originM.x
    out[n++] = at.y - originM.y
  }
  return out
}

/** A module frame in plan: its lower outer corner and its two edges from there. */
export interface FrameOutline {
  readonly corner: PointM
  readonly alongEdge: PointM
  readonly upEdge: PointM
}

/** The outline of a part that is a frame. O(log runs). */
export function frameOutlineM(index: SiteIndex, part: number): FrameOutline {
  assert(part < index.enclosureStart, `part ${part} is not a frame`)
  const { run, local } = partInTable(index, part)
  assert(local < patternOfRun(index, run).longStart, `part ${part} is not a frame`)
  const { alongEdge, upEdge } = frameEdgesM(index, run)
  const centre = partPositionM(index, part)!
  return {
    corner: {
      x: centre.x - (alongEdge.x + upEdge.x) / 2,
      y: centre.y - (alongEdge.y + upEdge.y) / 2,
    },
    alongEdge,
    upEdge,
  }
}

/** The two edges that all frames of a run share. */
export function frameEdgesM(index: SiteIndex, run: number): Omit<FrameOutline, 'corner'> {
  const { frameAlongM, frameUpM } = patternOfRun(index, run).size
  const { along, up } = runFrame(index, run)
  return {
    alongEdge: { x: frameAlongM * along.x, y: frameAlongM * along.y },
    upEdge: { x: frameUpM * up.x, y: frameUpM * up.y },
  }
}
