import { bodySort, clampSort, linkSort, soilSort, spliceSort } from '../layout/jointPlaces.ts'
import { typeOfRun, type MapGeometry } from './geometry.ts'
import { isAtLeast, smallest } from './lod.ts'
import { placesIn } from './placesIn.ts'
import type { Sight } from './sight.ts'
import { TableBrush } from './tableBrush.ts'
import { memberHalfM, postHalfM } from './tableHit.ts'
import type { TypeGeometry } from './typeGeometry.ts'

/** From this short side on, in device pixels, cells are hinted at inside a module. */
const cellsFromPx = 34
/** From this many device pixels per metre on, upright tables are laid on whole pixels. */
const crispFromPxPerM = 5
const shadowM = 0.22
/** Cross members are broken lines, long members whole ones. */
const crossDash = { periodPx: 9, share: 0.6 } as const

/** Colours a part of one table; the brush stands at it. */
type TableTint = (brush: TableBrush, run: number, place: number) => void

/** What a table is coloured by: its modules before what lies over them is drawn, members and posts before their joints. */
export interface TableTints {
  readonly modules: TableTint
  readonly members: TableTint
}

/** Tables in view, with what the level shows of them. O(runs + tables in view · what is shown of one). */
export function drawTables(sight: Sight, geometry: MapGeometry, tints: TableTints | null = null): void {
  const brush = new TableBrush(sight)
  brush.isCrisp = sight.k >= crispFromPxPerM
  const { runs, index } = geometry
  for (let run = 0; run < runs.count; run++) {
    const places = placesIn(geometry, run, sight.visibleM)
    const type = typeOfRun(geometry, run)
    for (let place = places.first; place <= places.last; place++) {
      brush.moveTo(geometry, run, place)
      if (sight.level === 'tables') {
        drawFarTable(sight, brush, type)
        tints?.modules(brush, run, place)
        continue
      }
      drawModules(sight, brush, type)
      tints?.modules(brush, run, place)
      if (isAtLeast(sight.level, 'members')) drawMembers(sight, brush, type)
      tints?.members(brush, run, place)
      if (sight.level !== 'joints') continue
      const first = index.rows.runs.jointStart[run] + place * type.pattern.jointCount
      drawJoints(sight, brush, type, geometry.absentJoints, first)
    }
  }
}

function drawFarTable({ k, dpr, inks }: Sight, brush: TableBrush, { pattern }: TypeGeometry): void {
  const { alongM, upM } = pattern.size
  const lackPx = smallest.tablePx * dpr - k * Math.min(alongM, upM)
  brush.rect(0, 0, alongM, upM, Math.max(lackPx / 2, 0), inks.tableFar)
}

function drawModules(sight: Sight, brush: TableBrush, type: TypeGeometry): void {
  const { k, dpr, inks, strength, tableFill, level, isGroundTinted } = sight
  const { size, across, high } = type.pattern
  const { alongM, upM, pitchAlongM, pitchUpM, frameAlongM, frameUpM } = size
  const hairPx = Math.max(Math.round(dpr), 1)
  // Smoothed edges and seams of turned tables are most of their time: while the scale changes they rest.
  const isPlain = sight.isSwift && !brush.isAligned
  if (strength > 0.5 && !isPlain) {
    const shadowPx = Math.round(Math.min(Math.max(shadowM * k, dpr), 6 * dpr))
    brush.shift(shadowPx, shadowPx)
    if (!isGroundTinted) brush.rect(0, 0, alongM, upM, hairPx, inks.shadow)
    brush.shift(-shadowPx, -shadowPx)
    brush.rect(0, 0, alongM, upM, hairPx, inks.tableEdge)
  }
  brush.rect(0, 0, alongM, upM, 0, tableFill)
  const isNear = level === 'joints'
  if (isNear) drawModuleFaces(sight, brush, type)
  if (isPlain) return
  const opacity = isNear ? 1 : 0.35 + 0.55 * strength
  const gapPx = (metres: number) => Math.max(metres * k, hairPx)
  const gapM = pitchAlongM - frameAlongM
  // Near, the faces of the modules are no even ground.
  if (isNear) {
    for (let a = 1; a < across; a++) {
      brush.lineUp(a * pitchAlongM - gapM / 2, 0, upM, gapPx(gapM), inks.seam, opacity)
    }
  } else {
    brush.linesUp(pitchAlongM - gapM / 2, pitchAlongM, across - 1, upM, gapPx(gapM), inks.seam, opacity)
  }
  for (let h = 1; h < high; h++) {
    const y = h * pitchUpM - (pitchUpM - frameUpM) / 2
    brush.lineAlong(0, alongM, y, gapPx(pitchUpM - frameUpM), inks.seam, opacity)
  }
}

/** Cells as a faint net, and the frame as a thin lighter edge. */
function drawModuleFaces({ k, dpr, inks }: Sight, brush: TableBrush, { pattern }: TypeGeometry): void {
  const { size, across, high, type } = pattern
  const { alongM, upM, pitchAlongM, pitchUpM, frameAlongM, frameUpM } = size
  const isPortrait = type.modules.orientation === 'portrait'
  const [cellsAlong, cellsUp] = isPortrait ? [6, 12] : [12, 6]
  const hairPx = Math.max(Math.round(dpr), 1)
  if (Math.min(frameAlongM, frameUpM) * k >= cellsFromPx * dpr) {
    for (let a = 0; a < across; a++) {
      for (let c = 1; c < cellsAlong; c++) {
        brush.lineUp(a * pitchAlongM + (c * frameAlongM) / cellsAlong, 0, upM, hairPx, inks.cellLine)
      }
    }
    for (let h = 0; h < high; h++) {
      for (let c = 1; c < cellsUp; c++) {
        brush.lineAlong(0, alongM, h * pitchUpM + (c * frameUpM) / cellsUp, hairPx, inks.cellLine)
      }
    }
  }
  const edgePx = Math.max(0.03 * k, hairPx)
  const inM = edgePx / 2 / k
  for (let a = 0; a < across; a++) {
    brush.lineUp(a * pitchAlongM + inM, 0, upM, edgePx, inks.moduleEdge)
    brush.lineUp(a * pitchAlongM + frameAlongM - inM, 0, upM, edgePx, inks.moduleEdge)
  }
  for (let h = 0; h < high; h++) {
    brush.lineAlong(0, alongM, h * pitchUpM + inM, edgePx, inks.moduleEdge)
    brush.lineAlong(0, alongM, h * pitchUpM + frameUpM - inM, edgePx, inks.moduleEdge)
  }
}

/** Members shine through the modules that hide them from above: bonding is under the glass. */
function drawMembers(sight: Sight, brush: TableBrush, type: TypeGeometry): void {
  const { k, dpr, inks, level } = sight
  const { pattern, memberY, crossX, crossFromY, crossToY } = type
  const widthPx = Math.max(2 * memberHalfM * k, 1.2 * dpr)
  const rimPx = level === 'joints' ? widthPx + 2 * Math.max(Math.round(dpr), 1) : 0
  const isPlain = sight.isSwift && !brush.isAligned
  const dashes = isPlain
    ? 1
    : Math.max(Math.round(((crossToY - crossFromY) * k) / (crossDash.periodPx * dpr)), 1)
  for (const x of crossX) {
    for (let d = 0; d < dashes; d++) {
      const from = crossFromY + (d / dashes) * (crossToY - crossFromY)
      const to = from + (dashes === 1 ? 1 : crossDash.share / dashes) * (crossToY - crossFromY)
      brush.lineUp(x, from, to, widthPx, inks.member, 0.75)
    }
  }
  for (const y of memberY) {
    if (rimPx > 0) brush.lineAlong(0, pattern.size.alongM, y, rimPx, inks.moduleEdge, 0.7)
    brush.lineAlong(0, pattern.size.alongM, y, widthPx, inks.member)
  }
  const postPx = Math.max(postHalfM * k, (smallest.postPx * dpr) / 2)
  for (let post = pattern.postStart; post < pattern.partCount; post++) {
    brush.square(pattern.xM[post], pattern.yM[post], postPx + dpr, inks.halo)
    brush.square(pattern.xM[post], pattern.yM[post], postPx, inks.post)
  }
}

/** Half the side of a joint's mark, in device pixels. */
export function jointHalfPx({ k, dpr }: Pick<Sight, 'k' | 'dpr'>): number {
  return Math.max(0.055 * k, (smallest.jointPx * dpr) / 2)
}

function drawJoints(
  sight: Sight,
  brush: TableBrush,
  { pattern, jointX, jointY, jointSort }: TypeGeometry,
  absent: ReadonlySet<number>,
  first: number,
): void {
  const { k, inks } = sight
  const halfPx = jointHalfPx(sight)
  for (let j = 0; j < pattern.jointCount; j++) {
    const sort = jointSort[j]
    if (sort === bodySort || sort === soilSort) continue
    if (absent.size > 0 && absent.has(first + j)) continue
    if (sort === clampSort || sort === linkSort) brush.dot(jointX[j], jointY[j], halfPx, inks.joint)
    else if (sort === spliceSort) drawSplice(brush, jointX[j], jointY[j], halfPx / k, halfPx, inks.joint)
    else brush.square(jointX[j], jointY[j], halfPx, inks.joint)
  }
}

/** A sleeve over the member: twice as long as a joint is wide, with its ends marked. */
function drawSplice(
  brush: TableBrush,
  x: number,
  y: number,
  halfM: number,
  halfPx: number,
  ink: number,
): void {
  brush.lineAlong(x - 3 * halfM, x + 3 * halfM, y, 2 * halfPx, ink)
}
