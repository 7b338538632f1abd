import type { DrawnItem } from '../model/drawnItem.ts'
import { byId } from '../model/queries/byId.ts'
import type { Electrode, Enclosure } from '../model/schema/equipment.ts'
import type { PointM } from '../model/schema/primitives.ts'
import { findId } from './idLookup.ts'
import { patternOfRun } from './partIndex.ts'
import { runFrame } from './positions.ts'
import type { SiteIndex } from './siteIndex.ts'

/** Half sizes, in metres, of what stands in plan for a thing without a drawn size. */
export const earthBarHalfM = { x: 0.32, y: 0.06 } as const
export const rodHalfM = 0.12

/** What a drawn thing covers in plan: one line through its points. */
export interface ItemOutline {
  readonly pointsM: readonly PointM[]
  /** The line comes back to its first point. */
  readonly isClosed: boolean
  /** What lies inside belongs to the thing too: rows, housings, obstacles, but not a ring of wire. */
  readonly isArea: boolean
}

const area = (pointsM: readonly PointM[]): ItemOutline => ({ pointsM, isClosed: true, isArea: true })
const line = (pointsM: readonly PointM[], isClosed: boolean): ItemOutline => ({
  pointsM,
  isClosed,
  isArea: false,
})

/**
 * The outline of a drawn thing in metres of the plan; null where the drawing has it no more. A row is one
 * rectangle around all its tables, from its origin along its lower edge; an enclosure its rectangle as turned;
 * bars, rods and plates small rectangles around their place; everything else the line it was drawn as.
 * O(runs of the row, or points of the path).
 */
export function itemOutlineM(index: SiteIndex, { sort, id }: DrawnItem): ItemOutline | null {
  const { drawing } = index
  switch (sort) {
    case 'row': {
      const row = findId(index.rows.ids, id)
      return row < 0 ? null : area(rowCornersM(index, row))
    }
    case 'enclosure': {
      const enclosure = byId(drawing.enclosures).get(id)
      return enclosure ? area(enclosureCornersM(enclosure)) : null
    }
    case 'earthBar': {
      const bar = byId(drawing.earthBars).get(id)
      return bar ? area(rectangle(bar.atM, earthBarHalfM.x, earthBarHalfM.y)) : null
    }
    case 'electrode': {
      const electrode = byId(drawing.electrodes).get(id)
      return electrode ? electrodeOutline(electrode) : null
    }
    case 'conductor': {
      const conductor = byId(drawing.conductors).get(id)
      const points = conductor?.points.map(({ atM }) => atM)
      return conductor && points ? line(points, conductor.closed) : null
    }
    case 'aisle': {
      const aisle = byId(drawing.aisles).get(id)
      return aisle ? line(aisle.pathM, false) : null
    }
    case 'obstacle': {
      const obstacle = byId(drawing.obstacles).get(id)
      return obstacle ? area(obstacle.outlineM) : null
    }
  }
}

/** A direction along a row, one up the slope, and how far its tables reach up in plan. */
export interface RowFrame {
  readonly origin: PointM
  readonly along: PointM
  readonly up: PointM
  readonly lengthM: number
  readonly upM: number
}

/** The rectangle of row number `row`; as high as the highest of its table types. O(runs of the row). */
export function rowFrame(index: SiteIndex, row: number): RowFrame {
  const { runStart, lengthM } = index.rows
  const { corner: origin, along, up } = runFrame(index, runStart[row])
  let upM = 0
  for (let run = runStart[row]; run < runStart[row + 1]; run++) {
    upM = Math.max(upM, patternOfRun(index, run).size.upM)
  }
  return { origin, along, up, lengthM: lengthM[row], upM }
}

/** A place so far along and up from the origin of a row. */
export function placeInRow({ origin, along, up }: RowFrame, alongM: number, upM: number): PointM {
  return {
    x: origin.x + alongM * along.x + upM * up.x,
    y: origin.y + alongM * along.y + upM * up.y,
  }
}

/** Lower edge in the row's direction, then the upper edge back. */
function rowCornersM(index: SiteIndex, row: number): readonly PointM[] {
  const frame = rowFrame(index, row)
  return [
    placeInRow(frame, 0, 0),
    placeInRow(frame, frame.lengthM, 0),
    placeInRow(frame, frame.lengthM, frame.upM),
    placeInRow(frame, 0, frame.upM),
  ]
}

/** The width lies across the bearing, the depth along it. */
function enclosureCornersM({ atM, widthM, depthM, bearingDeg }: Enclosure): readonly PointM[] {
  const bearing = (bearingDeg * Math.PI) / 180
  const [cos, sin] = [Math.cos(bearing), Math.sin(bearing)]
  return rectangle({ x: 0, y: 0 }, widthM / 2, depthM / 2).map(({ x, y }) => ({
    x: atM.x + x * cos + y * sin,
    y: atM.y - x * sin + y * cos,
  }))
}

function electrodeOutline(electrode: Electrode): ItemOutline {
  if (electrode.form === 'strip') return line(electrode.pathM, electrode.closed)
  const halfM = electrode.form === 'plate' ? Math.sqrt(electrode.areaM2) / 2 : rodHalfM
  return area(rectangle(electrode.atM, halfM, halfM))
}

function rectangle({ x, y }: PointM, halfX: number, halfY: number): readonly PointM[] {
  return [
    { x: x - halfX, y: y - halfY },
    { x: x + halfX, y: y - halfY },
    { x: x + halfX, y: y + halfY },
    { x: x - halfX, y: y + halfY },
  ]
}
