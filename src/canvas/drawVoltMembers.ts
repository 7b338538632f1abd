import { typeOfRun, type MapGeometry } from './geometry.ts'
import { jointHalfPx } from './drawTables.ts'
import { isAtLeast, smallest } from './lod.ts'
import type { Inks, Sight } from './sight.ts'
import type { TableBrush } from './tableBrush.ts'
import { memberHalfM, postHalfM } from './tableHit.ts'
import type { TypeGeometry } from './typeGeometry.ts'
import { voltInks } from './voltSteps.ts'

/** Widths below which a colour is not made out, in CSS pixels. */
const leastLinePx = 2.5
const leastPostPx = 5
/** A post shows its colour around the joint that lies on it. */
const besideJointPx = 2

/** Ink of a class of `voltSteps`; null below the first step. */
export function inkOfVolts(inks: Inks, found: number): number | null {
  return found > 0 ? inks[voltInks[found - 1]] : null
}

/**
 * Colours long and cross members and posts of one table, at which the brush stands, each by its own volts: a core
 * between rims in the ink of letters, so that it stands apart from a module of the same colour and from a member without;
 * the last step is about as far from the ground as its rims are. Of a long member each stretch is
 * coloured by the nearest station, where a tap would find it. O(parts).
 */
export function drawVoltMembers(
  sight: Sight,
  geometry: MapGeometry,
  parts: Uint8Array,
  brush: TableBrush,
  run: number,
  place: number,
): void {
  if (!isAtLeast(sight.level, 'members')) return
  const type = typeOfRun(geometry, run)
  const first = geometry.index.rows.runs.partStart[run] + place * type.pattern.partCount
  const inkOf = (local: number) => inkOfVolts(sight.inks, parts[first + local])
  drawCross(sight, type, brush, inkOf)
  drawLong(sight, type, brush, inkOf)
  drawPosts(sight, type, brush, inkOf)
}

type InkOf = (local: number) => number | null

function widthsPx({ k, dpr }: Sight): { readonly corePx: number; readonly allPx: number } {
  const corePx = Math.max(2 * memberHalfM * k, leastLinePx * dpr)
  return { corePx, allPx: corePx + 2 * Math.max(Math.round(dpr), 1) }
}

function drawCross(sight: Sight, type: TypeGeometry, brush: TableBrush, inkOf: InkOf): void {
  const { pattern, crossX, crossFromY, crossToY } = type
  const { corePx, allPx } = widthsPx(sight)
  for (let c = 0; c < crossX.length; c++) {
    const ink = inkOf(pattern.crossStart + c)
    if (ink === null) continue
    brush.lineUp(crossX[c], crossFromY, crossToY, allPx, sight.inks.label)
    brush.lineUp(crossX[c], crossFromY, crossToY, corePx, ink)
  }
}

function drawLong(sight: Sight, { pattern, memberY }: TypeGeometry, brush: TableBrush, inkOf: InkOf): void {
  const { across, longStart, size } = pattern
  const { corePx, allPx } = widthsPx(sight)
  for (let m = 0; m < memberY.length; m++) {
    // one line for each stretch of the same colour
    for (let s = 0; s <= across;) {
      const ink = inkOf(longStart + m * (across + 1) + s)
      const from = s === 0 ? 0 : (size.stationM[s - 1] + size.stationM[s]) / 2
      while (s <= across && inkOf(longStart + m * (across + 1) + s) === ink) s++
      const to = s > across ? size.alongM : (size.stationM[s - 1] + size.stationM[s]) / 2
      if (ink === null) continue
      brush.lineAlong(from, to, memberY[m], allPx, sight.inks.label)
      brush.lineAlong(from, to, memberY[m], corePx, ink)
    }
  }
}

function drawPosts(sight: Sight, { pattern }: TypeGeometry, brush: TableBrush, inkOf: InkOf): void {
  const { k, dpr, inks, level } = sight
  const jointPx = level === 'joints' ? jointHalfPx(sight) + (besideJointPx + 1) * dpr : 0
  const halfPx = Math.max(postHalfM * k, (Math.max(leastPostPx, smallest.postPx) * dpr) / 2, jointPx)
  for (let post = pattern.postStart; post < pattern.partCount; post++) {
    const ink = inkOf(post)
    if (ink === null) continue
    const [x, y] = [pattern.xM[post], pattern.yM[post]]
    brush.square(x, y, halfPx + dpr, inks.halo)
    brush.square(x, y, halfPx, inks.post)
    brush.square(x, y, halfPx - dpr, ink)
  }
}
