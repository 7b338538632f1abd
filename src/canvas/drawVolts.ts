import { bodySort, soilSort } from '../layout/jointPlaces.ts'
import { typeOfRun, type MapGeometry } from './geometry.ts'
import { isAtLeast, smallest } from './lod.ts'
import { isInRect } from './mapTypes.ts'
import { placesIn } from './placesIn.ts'
import { fillDot } from './rasteriser.ts'
import type { Sight } from './sight.ts'
import { TableBrush } from './tableBrush.ts'
import { voltInks } from './voltSteps.ts'
import type { VoltTints } from './voltTints.ts'

/** Colours one table, at which the brush stands: from far as a whole, near each module by its frame's volts. */
export function drawVolts(
  { level, k, dpr, inks }: Sight,
  geometry: MapGeometry,
  { parts, tables, tableStart }: VoltTints,
  brush: TableBrush,
  run: number,
  place: number,
): void {
  const { pattern } = typeOfRun(geometry, run)
  const { alongM, upM, frameAlongM, frameUpM } = pattern.size
  if (level === 'tables' || (parts === null && !isAtLeast(level, 'members'))) {
    const found = tables[tableStart[run] + place]
    const lackPx = smallest.tablePx * dpr - k * Math.min(alongM, upM)
    if (found > 0) brush.rect(0, 0, alongM, upM, Math.max(lackPx / 2, 0), inks[voltInks[found - 1]])
    return
  }
  if (parts === null) return
  const { partStart } = geometry.index.rows.runs
  const first = partStart[run] + place * pattern.partCount
  const insetPx = level === 'joints' ? -Math.max(Math.round(dpr), 1) : 0
  for (let frame = 0; frame < pattern.longStart; frame++) {
    const found = parts[first + frame]
    if (found === 0) continue
    const [x, y] = [pattern.xM[frame], pattern.yM[frame]]
    const [halfX, halfY] = [frameAlongM / 2, frameUpM / 2]
    brush.rect(x - halfX, y - halfY, x + halfX, y + halfY, insetPx, inks[voltInks[found - 1]])
  }
}

/** Lost joints as dots, near by each, from far those between tables and of conductors; the more volts the larger. */
export function drawLosses(sight: Sight, geometry: MapGeometry, { joints, loose, looseM }: VoltTints): void {
  if (joints === null) return
  const { x0, y0, k, dpr, visibleM, raster, inks } = sight
  const dot = (found: number, column: number, row: number) => {
    const radius = (1.6 + found) * dpr
    const reach = radius + 2 * dpr
    if (column < -reach || row < -reach || column > raster.width + reach || row > raster.height + reach)
      return
    fillDot(raster, column, row, radius + dpr, inks.halo)
    fillDot(raster, column, row, radius + dpr / 2, inks.label)
    fillDot(raster, column, row, radius - dpr / 4, inks[voltInks[found - 1]])
  }
  if (isAtLeast(sight.level, 'members')) drawTableLosses(sight, geometry, joints, dot)
  for (let i = 0; i < loose.length; i++) {
    const [x, y] = [looseM[2 * i], looseM[2 * i + 1]]
    if (isInRect(visibleM, x, y)) dot(joints[loose[i]], x0 + k * x, y0 - k * y)
  }
}

function drawTableLosses(
  sight: Sight,
  geometry: MapGeometry,
  joints: Uint8Array,
  dot: (found: number, column: number, row: number) => void,
): void {
  const brush = new TableBrush(sight)
  const { runs, index } = geometry
  for (let run = 0; run < runs.count; run++) {
    const places = placesIn(geometry, run, sight.visibleM)
    const { pattern, jointX, jointY, jointSort } = typeOfRun(geometry, run)
    for (let place = places.first; place <= places.last; place++) {
      brush.moveTo(geometry, run, place)
      const first = index.rows.runs.jointStart[run] + place * pattern.jointCount
      for (let j = 0; j < pattern.jointCount; j++) {
        const found = joints[first + j]
        if (found === 0 || jointSort[j] === bodySort || jointSort[j] === soilSort) continue
        dot(found, brush.column(jointX[j], jointY[j]), brush.row(jointX[j], jointY[j]))
      }
    }
  }
}
