import type { ReadingMark } from '../state/mapMarks.ts'
import type { LineLook } from '../state/readingLook.ts'
import type { MapGeometry } from './geometry.ts'
import type { PointPx, View } from './mapTypes.ts'
import { partPointM } from './markPoints.ts'
import {
  arcBetween,
  chordPx,
  distanceToCurve,
  pieceOf,
  pointOn,
  spanIn,
  type Box,
  type Curve,
} from './overlayCurves.ts'
import { lookStyles, type ReadingCurve } from './readingGlyph.ts'

/** Readings as edges of the map, the newest last: ends in plan as x₀ y₀ x₁ y₁ …, and the lane of each among those of its pair. */
export interface ReadingEdges {
  readonly marks: readonly ReadingMark[]
  readonly endsM: Float64Array
  readonly lanes: Uint16Array
}

/** A reading as it is seen in a view. */
export interface SeenReading extends ReadingCurve {
  readonly mark: ReadingMark
  /** The whole curve. */
  readonly whole: Curve
  /** The last one taken: its value is told wherever it is. */
  readonly isNewest: boolean
  /** The middle of the whole is out of sight: the mark stands in the middle of what is seen. */
  readonly isMiddleMoved: boolean
}

/** O(readings). Readings to remote earth have no second end on the map and are left out. */
export function readingEdges(geometry: MapGeometry, readings: readonly ReadingMark[]): ReadingEdges {
  const marks: ReadingMark[] = []
  const ends: number[] = []
  const lanes: number[] = []
  const lanesOfPair = new Map<string, number>()
  for (const mark of readings) {
    const from = partPointM(geometry, mark.from)
    const to = partPointM(geometry, mark.to)
    if (!from || !to) continue
    const pair = mark.from < mark.to ? `${mark.from} ${mark.to}` : `${mark.to} ${mark.from}`
    const lane = lanesOfPair.get(pair) ?? 0
    lanesOfPair.set(pair, lane + 1)
    marks.push(mark)
    lanes.push(lane)
    ends.push(from.x, from.y, to.x, to.y)
  }
  return { marks, endsM: Float64Array.from(ends), lanes: Uint16Array.from(lanes) }
}

const marginPx = 24
/** Shorter readings show only their line: a mark would hide it. */
export const shortestMarkedPx = 26

/** The readings that can be seen, each cut to what is seen of it. O(readings). */
export function seenReadings({ marks, endsM, lanes }: ReadingEdges, view: View): SeenReading[] {
  const box: Box = {
    left: -marginPx,
    top: -marginPx,
    right: view.widthPx + marginPx,
    bottom: view.heightPx + marginPx,
  }
  const seen: SeenReading[] = []
  for (let i = 0; i < marks.length; i++) {
    const from = { x: view.x + view.k * endsM[4 * i], y: view.y - view.k * endsM[4 * i + 1] }
    const to = { x: view.x + view.k * endsM[4 * i + 2], y: view.y - view.k * endsM[4 * i + 3] }
    const whole = arcBetween(from, to, lanes[i])
    const span = spanIn(whole, box)
    if (span) seen.push(seenReading(marks[i], i === marks.length - 1, whole, span, view))
  }
  return seen
}

function seenReading(
  mark: ReadingMark,
  isNewest: boolean,
  whole: Curve,
  [t0, t1]: readonly [number, number],
  { widthPx, heightPx }: View,
): SeenReading {
  const lengthPx = chordPx(whole)
  const period = lookStyles[mark.look].dash.reduce((sum, length) => sum + length, 0)
  // A cut that always falls where a dash begins keeps the dashes where they are while the view moves.
  const from = period > 0 && t0 > 0 ? (Math.floor((t0 * lengthPx) / period) * period) / lengthPx : t0
  const seenPx = (t1 - from) * lengthPx
  const { x, y } = pointOn(whole, 0.5)
  const isMiddleSeen = x >= 0 && y >= 0 && x <= widthPx && y <= heightPx && from < 0.5 && t1 > 0.5
  return {
    mark,
    isNewest,
    whole,
    isMiddleMoved: !isMiddleSeen,
    curve: pieceOf(whole, from, t1),
    hasStart: t0 === 0,
    hasEnd: t1 === 1,
    middleAt: seenPx < shortestMarkedPx ? null : isMiddleSeen ? (0.5 - from) / (t1 - from) : 0.5,
  }
}

/** Which readings come first where not all can have room or time: 0 before 1. */
export const urgency: Readonly<Record<LineLook, number>> = {
  investigate: 0,
  overRange: 1,
  noMetalPath: 1,
  poorContact: 2,
  tooLow: 2,
  leadIn: 2,
  waiting: 3,
  required: 3,
  within: 4,
  planned: 4,
  proposed: 4,
  setAside: 5,
  timesFar: 0,
  timesHigh: 1,
  timesRaised: 2,
  timesBelow: 2,
  timesNear: 4,
}

/** The reading nearest to a point on the screen, within a reach; readings on top win a tie. O(seen). */
export function readingNear(seen: readonly SeenReading[], at: PointPx, reachPx: number): SeenReading | null {
  let nearestPx = reachPx
  let found: SeenReading | null = null
  for (const reading of seen) {
    const { x0, y0, cx, cy, x1, y1 } = reading.curve
    if (at.x < Math.min(x0, cx, x1) - reachPx || at.x > Math.max(x0, cx, x1) + reachPx) continue
    if (at.y < Math.min(y0, cy, y1) - reachPx || at.y > Math.max(y0, cy, y1) + reachPx) continue
    const distancePx = distanceToCurve(reading.curve, at)
    if (distancePx > nearestPx) continue
    nearestPx = distancePx
    found = reading
  }
  return found
}
