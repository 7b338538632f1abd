import type { SuspectMark } from '../state/mapMarks.ts'
import { suspectSizePx } from './drawMarks.ts'
import type { PointPx } from './mapTypes.ts'
import type { Box } from './overlayCurves.ts'
import { boxAround, doTouch } from './overlayLabels.ts'

/** A suspect with its place on the screen. */
export interface PlacedSuspect {
  readonly mark: SuspectMark
  readonly at: PointPx
}

/** A ring around a suspect; the rank stands on it where it has room. */
export interface SuspectRing extends PlacedSuspect {
  readonly radiusPx: number
  readonly plate: Box | null
}

/** Where a group of suspects lies that is out of sight: a plate at the edge, pointing outwards. */
export interface SuspectPointer {
  readonly mark: SuspectMark
  readonly at: PointPx
  /** Direction from the plate to the suspect, y down. */
  readonly towards: PointPx
}

export const pointerRadiusPx = 13
const ringGapPx = 4
const plateHeightPx = 15
/** Rings nearer than this would hide one another: the better rank keeps its ring. */
const ringsApartPx = 7
const mostRings = 120
/** One plate speaks for the rings of its group so near to it. */
const sameRankPx = 40
/** Groups of later ranks are shown where they are, but nobody is sent to them from afar. */
const lastPointedRank = 5

/**
 * Rings for the suspects on screen, first ranks first, those that are chosen before all. O(rings²), at most
 * `mostRings` rings.
 */
export function suspectRings(placed: readonly PlacedSuspect[], screen: Box): readonly SuspectRing[] {
  const order = placed
    .filter(({ at }) => isWithin(at, screen))
    .sort(
      (a, b) =>
        Number(b.mark.isPicked) - Number(a.mark.isPicked) ||
        a.mark.rank - b.mark.rank ||
        b.mark.probability - a.mark.probability,
    )
  const rings: SuspectRing[] = []
  for (const { mark, at } of order) {
    if (rings.length >= mostRings) break
    const radiusPx = suspectSizePx(mark.probability) / 2 + ringGapPx
    if (rings.some((ring) => Math.hypot(ring.at.x - at.x, ring.at.y - at.y) < ringsApartPx)) continue
    rings.push({ mark, at, radiusPx, plate: plateFor(mark, at, radiusPx, rings) })
  }
  return rings
}

function plateFor(
  mark: SuspectMark,
  at: PointPx,
  radiusPx: number,
  rings: readonly SuspectRing[],
): Box | null {
  const isTold = rings.some(
    (ring) =>
      ring.plate &&
      ring.mark.rank === mark.rank &&
      Math.hypot(ring.at.x - at.x, ring.at.y - at.y) < sameRankPx,
  )
  if (isTold) return null
  const widthPx = plateWidthPx(mark.rank)
  const aside = radiusPx + widthPx / 2 - 2
  const above = radiusPx + plateHeightPx / 2 - 4
  const places = [
    { x: at.x + aside, y: at.y - above },
    { x: at.x - aside, y: at.y - above },
    { x: at.x + aside, y: at.y + above },
    { x: at.x - aside, y: at.y + above },
  ]
  return (
    places
      .map((place) => boxAround(place, widthPx, plateHeightPx))
      .find(
        (box) =>
          !rings.some(
            (ring) =>
              (ring.plate && doTouch(box, ring.plate, 1)) ||
              doTouch(box, boxAround(ring.at, 2 * ring.radiusPx, 2 * ring.radiusPx)),
          ),
      ) ?? null
  )
}

export function plateWidthPx(rank: number): number {
  return 9 + 7 * String(rank).length
}

/**
 * One pointer for each of the first groups of which nothing is on screen, where the line from the middle of
 * the room to its likeliest joint leaves the room; pointers that would touch are moved along the edge.
 */
export function suspectPointers(placed: readonly PlacedSuspect[], screen: Box, room: Box): SuspectPointer[] {
  const first = new Map<number, PlacedSuspect>()
  const isSeen = new Set<number>()
  for (const suspect of placed) {
    const { rank, probability } = suspect.mark
    if (rank > lastPointedRank) continue
    const best = first.get(rank)
    if (!best || probability > best.mark.probability) first.set(rank, suspect)
    if (isWithin(suspect.at, screen)) isSeen.add(rank)
  }
  const pointers: SuspectPointer[] = []
  for (const [rank, { mark, at }] of [...first].sort(([a], [b]) => a - b)) {
    if (isSeen.has(rank)) continue
    const edge = slideFree(
      edgePoint(at, room),
      pointers.map((other) => other.at),
      room,
    )
    const dx = at.x - edge.x
    const dy = at.y - edge.y
    const length = Math.hypot(dx, dy) || 1
    pointers.push({ mark, at: edge, towards: { x: dx / length, y: dy / length } })
  }
  return pointers
}

/** Where the line from the middle of a box to a point outside leaves the box; the point itself if inside. */
export function edgePoint(to: PointPx, { left, top, right, bottom }: Box): PointPx {
  const x = (left + right) / 2
  const y = (top + bottom) / 2
  const dx = to.x - x
  const dy = to.y - y
  const share = Math.min(
    1,
    dx === 0 ? Infinity : (right - left) / 2 / Math.abs(dx),
    dy === 0 ? Infinity : (bottom - top) / 2 / Math.abs(dy),
  )
  return { x: x + share * dx, y: y + share * dy }
}

/** Moves a place along the edge of a box, both ways in turn, until it is clear of the others. */
function slideFree(at: PointPx, others: readonly PointPx[], box: Box): PointPx {
  const apartPx = 2 * pointerRadiusPx + 6
  const isOnSide = Math.abs(at.x - box.left) < 0.5 || Math.abs(at.x - box.right) < 0.5
  for (let step = 0; step <= 12; step++) {
    const by = (step % 2 === 0 ? 1 : -1) * Math.ceil(step / 2) * (apartPx + 2)
    const place = isOnSide
      ? { x: at.x, y: Math.min(Math.max(at.y + by, box.top), box.bottom) }
      : { x: Math.min(Math.max(at.x + by, box.left), box.right), y: at.y }
    if (others.every((other) => Math.hypot(other.x - place.x, other.y - place.y) >= apartPx)) return place
  }
  return at
}

function isWithin({ x, y }: PointPx, { left, top, right, bottom }: Box): boolean {
  return x >= left && x <= right && y >= top && y <= bottom
}
