import type { DrawnItem } from '../model/drawnItem.ts'
import { byId } from '../model/queries/byId.ts'
import type { PointM } from '../model/schema/primitives.ts'
import { findId, lowerBound } from './idLookup.ts'
import { itemOutlineM, placeInRow, rowFrame } from './itemOutline.ts'
import { patternOfRun } from './partIndex.ts'
import { runFrame } from './positions.ts'
import { ordinalOf, tableById, tableByOrdinal } from './rowIndex.ts'
import type { SiteIndex } from './siteIndex.ts'

/**
 * The points of a drawn thing that others snap to: corners of a row and the middles of its two ends; corners and
 * centre of an enclosure; the place of a bar, rod or plate; the points of a path. Empty where the drawing has it
 * no more.
 */
export function itemAnchorsM(index: SiteIndex, item: DrawnItem): readonly PointM[] {
  const outline = itemOutlineM(index, item)
  if (!outline) return []
  const { drawing } = index
  switch (item.sort) {
    case 'row': {
      const frame = rowFrame(index, findId(index.rows.ids, item.id))
      const middles = [0, frame.lengthM].map((alongM) => placeInRow(frame, alongM, frame.upM / 2))
      return [...outline.pointsM, ...middles]
    }
    case 'enclosure':
      return [...outline.pointsM, byId(drawing.enclosures).get(item.id)!.atM]
    case 'earthBar':
      return [byId(drawing.earthBars).get(item.id)!.atM]
    case 'electrode': {
      const electrode = byId(drawing.electrodes).get(item.id)!
      return electrode.form === 'strip' ? outline.pointsM : [electrode.atM]
    }
    default:
      return outline.pointsM
  }
}

/**
 * The corners of the table of a row that is nearest to a place, and of its neighbours: what a point snaps to while it
 * is drawn along the row. Empty where there is no such row. O(log runs).
 */
export function tableAnchorsM(index: SiteIndex, rowId: number, nearM: PointM): readonly PointM[] {
  const row = findId(index.rows.ids, rowId)
  if (row < 0) return []
  const { runs, tables } = index.rows
  const frame = rowFrame(index, row)
  const { origin, along } = frame
  const alongM = (nearM.x - origin.x) * along.x + (nearM.y - origin.y) * along.y
  const nearest = ordinalAlong(index, row, alongM)
  const corners: PointM[] = []
  for (let k = Math.max(nearest - 1, 0); k <= Math.min(nearest + 1, tables[row] - 1); k++) {
    const { run, place } = tableByOrdinal(index.rows, row, k)
    const { size } = patternOfRun(index, run)
    const fromM = runs.alongM[run] + place * (size.alongM + index.drawing.rows[row].gapM)
    for (const upM of [0, size.upM]) {
      corners.push(placeInRow(frame, fromM, upM), placeInRow(frame, fromM + size.alongM, upM))
    }
  }
  return corners
}

/** Place in its row, from 0, of the table that begins nearest before a length along the row. */
function ordinalAlong(index: SiteIndex, row: number, alongM: number): number {
  const { runStart, runs } = index.rows
  const run = Math.max(lowerBound(runs.alongM, alongM, runStart[row], runStart[row + 1]) - 1, runStart[row])
  const stepM = patternOfRun(index, run).size.alongM + index.drawing.rows[row].gapM
  const place = Math.floor((alongM - runs.alongM[run]) / stepM)
  return ordinalOf(index.rows, { run, place: Math.min(Math.max(place, 0), runs.count[run] - 1) })
}

/** The lower outer corner of a table, where a row that begins with it has its origin; null where there is none. */
export function tableCornerM(index: SiteIndex, rowId: number, tableId: number): PointM | null {
  const row = findId(index.rows.ids, rowId)
  const spot = row < 0 ? null : tableById(index.rows, row, tableId)
  if (!spot) return null
  const { corner, step } = runFrame(index, spot.run)
  return { x: corner.x + spot.place * step.x, y: corner.y + spot.place * step.y }
}
