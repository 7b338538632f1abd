import { bodySort, soilSort } from '../layout/jointPlaces.ts'
import { sights, type Sight as JointSight } from '../model/planning.ts'
import { typeOfRun, type MapGeometry } from './geometry.ts'
import { isAtLeast } from './lod.ts'
import { isInRect } from './mapTypes.ts'
import { placesIn } from './placesIn.ts'
import { fillBox, fillDot } from './rasteriser.ts'
import type { Sight } from './sight.ts'
import { dashPx, dashShares, sightMarks, sightRadiusPx, tableShares, type SightForm } from './sightMarks.ts'
import type { SightTints } from './sightTints.ts'
import { TableBrush } from './tableBrush.ts'

/** From far, joints between tables are marked only where a table is longer than this, in CSS pixels. */
const looseFromPx = 20

/**
 * What a plan would show: from far a table by how much of it would show, near every joint by its mark.
 * O(tables or joints in view).
 */
export function drawSights(sight: Sight, geometry: MapGeometry, tints: SightTints): void {
  if (isAtLeast(sight.level, 'members')) drawTableJoints(sight, geometry, tints)
  else drawTableTints(sight, geometry, tints)
  drawLoose(sight, geometry, tints)
}

/** The number of a sight as what is drawn of it; null for what cannot fail. */
function formsAt(isNear: boolean): readonly (SightForm | null)[] {
  return sights.map((name: JointSight) => {
    if (name === 'cannotFail') return null
    return isNear || name === 'criterion' || name === 'comparison' ? name : 'hidden'
  })
}

function drawTableJoints(sight: Sight, geometry: MapGeometry, tints: SightTints): void {
  const brush = new TableBrush(sight)
  const isNear = sight.level === 'joints'
  const forms = formsAt(isNear)
  const radius = sightRadiusPx(sight.k / sight.dpr, isNear) * sight.dpr
  const { runs, index, absentJoints } = geometry
  for (let run = 0; run < runs.count; run++) {
    const places = placesIn(geometry, run, sight.visibleM)
    const { pattern, jointX, jointY, jointSort } = typeOfRun(geometry, run)
    for (let place = places.first; place <= places.last; place++) {
      brush.moveTo(geometry, run, place)
      const first = index.rows.runs.jointStart[run] + place * pattern.jointCount
      for (let j = 0; j < pattern.jointCount; j++) {
        const form = forms[tints.sight[first + j]]
        if (form === null || jointSort[j] === bodySort || jointSort[j] === soilSort) continue
        if (absentJoints.size > 0 && absentJoints.has(first + j)) continue
        drawMark(sight, form, brush.column(jointX[j], jointY[j]), brush.row(jointX[j], jointY[j]), radius)
      }
    }
  }
}

/** Joints between tables, of conductors, extra ones. */
function drawLoose(sight: Sight, geometry: MapGeometry, { sight: found, loose, looseM }: SightTints): void {
  const { x0, y0, k, dpr, visibleM } = sight
  const isNear = sight.level === 'joints'
  if (sight.level === 'tables' && lengthOfTables(geometry) * k < looseFromPx * dpr) return
  const forms = formsAt(isNear)
  const radius = sightRadiusPx(isAtLeast(sight.level, 'members') ? k / dpr : Infinity, isNear) * dpr
  for (let i = 0; i < loose.length; i++) {
    const [x, y] = [looseM[2 * i], looseM[2 * i + 1]]
    const form = forms[found[loose[i]]]
    if (form !== null && isInRect(visibleM, x, y)) drawMark(sight, form, x0 + k * x, y0 - k * y, radius)
  }
}

function lengthOfTables({ types }: MapGeometry): number {
  return Math.max(0, ...types.map((type) => type?.pattern.size.alongM ?? 0))
}

/** A mark outside the raster costs nothing; while the scale changes its rim rests. */
function drawMark(
  { raster, inks, isSwift }: Sight,
  form: SightForm,
  column: number,
  row: number,
  radius: number,
): void {
  const reach = 1.3 * radius
  if (column < -reach || row < -reach || column > raster.width + reach || row > raster.height + reach) return
  for (const piece of sightMarks[form]) {
    if ('disc' in piece) {
      if (piece.disc > 1 && isSwift) continue
      fillDot(raster, column, row, piece.disc * radius, inks[piece.ink])
      continue
    }
    const [x, y, halfX, halfY] = piece.box
    const [ux, uy] = piece.isTurned ? [Math.SQRT1_2, Math.SQRT1_2] : [1, 0]
    const cx = column + radius * (ux * x - uy * y)
    const cy = row + radius * (uy * x + ux * y)
    fillBox(raster, cx, cy, ux, uy, halfX * radius, halfY * radius, inks[piece.ink])
  }
}

/** An outline, filled by dashes along the table: so much of it as of its joints would show. */
function drawTableTints(sight: Sight, geometry: MapGeometry, { tables, tableStart }: SightTints): void {
  const brush = new TableBrush(sight)
  brush.isCrisp = sight.level !== 'tables'
  const { k, dpr, inks } = sight
  const { runs } = geometry
  const hairPx = Math.max(Math.round(dpr), 1)
  for (let run = 0; run < runs.count; run++) {
    const places = placesIn(geometry, run, sight.visibleM)
    const { alongM, upM } = typeOfRun(geometry, run).pattern.size
    const isThin = upM * k < 4 * hairPx
    const dashes = Math.max(Math.round((alongM * k) / (dashPx * dpr)), 1)
    for (let place = places.first; place <= places.last; place++) {
      brush.moveTo(geometry, run, place)
      const found = tables[tableStart[run] + place]
      const share = dashShares[tableShares[found % tableShares.length]]
      const ink = found >= tableShares.length ? inks.compared : inks.shown
      const growPx = isThin ? Math.max((1.5 * dpr - upM * k) / 2, 0) : 0
      brush.rect(0, 0, alongM, upM, growPx, share === 1 ? ink : isThin ? inks.tableEmpty : inks.hidden)
      if (share === 1) continue
      if (!isThin) brush.rect(0, 0, alongM, upM, -hairPx, inks.tableEmpty)
      if (share === 0) continue
      for (let d = 0; d < dashes; d++) {
        const from = (d / dashes) * alongM
        brush.rect(from, 0, from + (share / dashes) * alongM, upM, isThin ? growPx : -hairPx, ink)
      }
    }
  }
}
