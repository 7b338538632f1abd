import { patternOfRun } from '../../layout/partIndex.ts'
import { runFrame } from '../../layout/positions.ts'
import type { SiteIndex } from '../../layout/siteIndex.ts'
import type { PointM } from '../../model/schema/primitives.ts'

/** A gap between two tables of a row that a person goes through; judgement. */
export const passableGapM = 0.6
/** Sites with more pieces of rows than this are walked round whole rows: gaps in them are not gone through. */
const mostPieces = 4000

/** A rectangle of tables that nobody walks through: a row, or a piece of it between gaps that one goes through. */
export interface Barrier {
  readonly row: number
  /** Where it begins along its row. */
  readonly fromM: number
  readonly corner: PointM
  readonly along: PointM
  /** To the left of `along`, as the tables rise. */
  readonly up: PointM
  readonly lengthM: number
  readonly upM: number
}

/**
 * The rows of a site as barriers, in drawing order, and those of row r at start[r] … start[r + 1] − 1. O(runs), or O(tables)
 * where tables stand apart.
 */
export function barriersOf(index: SiteIndex): {
  readonly barriers: readonly Barrier[]
  readonly start: Int32Array
} {
  const { rows, drawing } = index
  let pieces = 0
  drawing.rows.forEach(({ gapM }, row) => (pieces += gapM >= passableGapM ? rows.tables[row] : 1))
  const isSplit = pieces <= mostPieces
  const barriers: Barrier[] = []
  const start = new Int32Array(drawing.rows.length + 1)
  drawing.rows.forEach(({ gapM }, row) => {
    if (isSplit && gapM >= passableGapM) barriers.push(...tablesOf(index, row))
    else barriers.push(wholeRow(index, row))
    start[row + 1] = barriers.length
  })
  return { barriers, start }
}

/** As high as the highest of its table types. */
function wholeRow(index: SiteIndex, row: number): Barrier {
  const { runStart, lengthM } = index.rows
  const { corner, along, up } = runFrame(index, runStart[row])
  let upM = 0
  for (let run = runStart[row]; run < runStart[row + 1]; run++) {
    upM = Math.max(upM, patternOfRun(index, run).size.upM)
  }
  return { row, fromM: 0, corner, along, up, lengthM: lengthM[row], upM }
}

function* tablesOf(index: SiteIndex, row: number): Generator<Barrier> {
  const { runStart, runs } = index.rows
  const { gapM } = index.drawing.rows[row]
  for (let run = runStart[row]; run < runStart[row + 1]; run++) {
    const { corner, step, along, up } = runFrame(index, run)
    const { alongM, upM } = patternOfRun(index, run).size
    for (let t = 0; t < runs.count[run]; t++) {
      yield {
        row,
        fromM: runs.alongM[run] + t * (alongM + gapM),
        corner: { x: corner.x + t * step.x, y: corner.y + t * step.y },
        along,
        up,
        lengthM: alongM,
        upM,
      }
    }
  }
}
