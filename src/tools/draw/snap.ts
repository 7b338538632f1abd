import { distanceM } from '../../layout/path.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import { bearingDegOf, directionOf, leftOf, turnBetweenDeg, wholeTurnDeg } from './bearing.ts'
import type { DrawContext, DrawPoint, PartHere } from './drawTool.ts'
import { alongM, betweenM, dot, roundM, roundPointM } from './places.ts'

export interface SnapOptions {
  /** Nothing snaps; the place is only rounded. */
  readonly isFree: boolean
  /** 0 for no grid. */
  readonly gridM: number
  readonly anchorsNear: (atM: PointM, withinM: number) => readonly PointM[]
  /** The part that a point would land on. */
  readonly part?: PartHere | null
  /** Where the line that is drawn comes from. */
  readonly fromM?: PointM | null
  /** Held to a direction from there: eighths of a turn from north, or square to `straightDeg`. */
  readonly isStraight?: boolean
  /** Held to the nearest of these bearings from there; before `isStraight`. */
  readonly heldDeg?: readonly number[]
  /** Bearing of the leg before, or of the row; as `alongDeg` where not given. */
  readonly straightDeg?: number | null
  /** Bearing of the rows around: the way things here are lined up. North where not given. */
  readonly alongDeg?: number | null
  /** Bearings from `fromM` that catch the pointer when it comes near. */
  readonly catchDeg?: readonly number[]
}

export interface Snapped {
  readonly atM: PointM
  /** What it snapped along, each from the thing to the place. */
  readonly guides: readonly (readonly [PointM, PointM])[]
  readonly onto: 'part' | 'anchor' | 'direction' | 'aligned' | 'grid' | null
  /** The bearing it was held to, exactly; the rounded place has it only nearly. */
  readonly bearingDeg: number | null
}

/**
 * Things line a place up that are this many times further off than they can be pointed at: those nearest by, and where
 * none of them does, those further off. On a plan full of things the far ones would catch every place.
 */
const lineUpWithin = [6, 25, 100]

/**
 * Where a press at a place is meant: on a part; held to a direction where that is asked for; on an end, corner or
 * centre within reach; along a direction that catches; in line with such a point; on the grid. The first of these
 * that holds. Every place is rounded to a tenth of a millimetre. O(anchors near).
 */
export function snapTo(at: PointM, reachM: number, options: SnapOptions): Snapped {
  const { isFree, part, fromM, isStraight, catchDeg = [] } = options
  if (isFree) return plain(at)
  if (part) return { ...plain(part.atM), onto: 'part' }
  const heldDeg = options.heldDeg ?? (isStraight ? straightBearings(options) : [])
  if (fromM && heldDeg.length > 0 && distanceM(fromM, at) > 0) {
    const bearingDeg = nearestBearing(bearingDegOf(fromM, at), heldDeg)
    return onRay(at, reachM, fromM, bearingDeg, options)
  }
  const anchor = nearestTo(at, reachM, options.anchorsNear(at, reachM))
  if (anchor) return { ...plain(anchor), onto: 'anchor' }
  if (fromM && catchDeg.length > 0 && distanceM(fromM, at) > reachM) {
    const bearingDeg = nearestBearing(bearingDegOf(fromM, at), catchDeg)
    if (isNearRay(at, reachM, fromM, bearingDeg)) return onRay(at, reachM, fromM, bearingDeg, options)
  }
  return inLine(at, reachM, options)
}

/** `snapTo` for a place under the pointer. */
export function snapHere(
  { gridM, anchorsNear }: DrawContext,
  { atM, reachM, isFree }: DrawPoint,
  options: Omit<Partial<SnapOptions>, 'isFree'> = {},
): Snapped {
  return snapTo(atM, reachM, { isFree, gridM, anchorsNear, ...options })
}

function plain(at: PointM): Snapped {
  return { atM: roundPointM(at), guides: [], onto: null, bearingDeg: null }
}

function straightBearings({ straightDeg, alongDeg }: SnapOptions): readonly number[] {
  const squareTo = straightDeg ?? alongDeg ?? 0
  const eighths = [0, 45, 90, 135, 180, 225, 270, 315]
  return [...eighths, ...[0, 90, 180, 270].map((turn) => wholeTurnDeg(squareTo + turn))]
}

function nearestBearing(bearingDeg: number, among: readonly number[]): number {
  const offDeg = (other: number) => Math.abs(turnBetweenDeg(bearingDeg, other))
  return among.reduce((best, other) => (offDeg(other) < offDeg(best) ? other : best))
}

/** A long line is hard to hold straight: it is caught within some two degrees more than the pointer's reach. */
const catchShare = 0.035

function isNearRay(at: PointM, reachM: number, fromM: PointM, bearingDeg: number): boolean {
  const direction = directionOf(bearingDeg)
  const by = betweenM(fromM, at)
  const aheadM = dot(by, direction)
  return aheadM > 0 && Math.abs(dot(by, leftOf(direction))) <= reachM + catchShare * aheadM
}

/** The nearest within reach; of equally near ones the western, then the southern. */
function nearestTo(at: PointM, reachM: number, anchors: readonly PointM[]): PointM | null {
  let best: PointM | null = null
  let bestM = reachM
  for (const anchor of anchors) {
    const offM = distanceM(at, anchor)
    if (offM < bestM || (offM === bestM && (!best || comesBefore(anchor, best)))) {
      best = anchor
      bestM = offM
    }
  }
  return best
}

function comesBefore(a: PointM, b: PointM): boolean {
  return a.x < b.x || (a.x === b.x && a.y < b.y)
}

/** What is found among the anchors nearest by; where nothing is, among those further off. */
function firstNearBy<T>(
  at: PointM,
  reachM: number,
  { anchorsNear }: SnapOptions,
  find: (anchors: readonly PointM[]) => T | null,
): T | null {
  for (const times of lineUpWithin) {
    const found = find(anchorsNear(at, reachM * times))
    if (found) return found
  }
  return null
}

const toGrid = (valueM: number, gridM: number) => (gridM > 0 ? Math.round(valueM / gridM) * gridM : valueM)

/** On a ray, in line with an anchor where one is square to it within reach, else in steps of the grid from its start. */
function onRay(at: PointM, reachM: number, fromM: PointM, bearingDeg: number, options: SnapOptions): Snapped {
  const { gridM, alongDeg } = options
  const direction = directionOf(bearingDeg)
  const aheadM = Math.max(dot(betweenM(fromM, at), direction), 0)
  const crossing = firstNearBy(at, reachM, options, (anchors) =>
    nearestCrossing(aheadM, reachM, fromM, direction, anchors, directionOf(alongDeg ?? 0)),
  )
  const lengthM = crossing?.lengthM ?? toGrid(aheadM, gridM)
  const atM = roundPointM(alongM(fromM, direction, lengthM))
  const guides: Snapped['guides'] = [[fromM, atM], ...(crossing ? [[crossing.anchor, atM] as const] : [])]
  return { atM, guides, onto: 'direction', bearingDeg }
}

/** Where a ray meets the lines through anchors along and across the way things are lined up, nearest to a length. */
function nearestCrossing(
  aheadM: number,
  reachM: number,
  fromM: PointM,
  direction: PointM,
  anchors: readonly PointM[],
  along: PointM,
): { readonly lengthM: number; readonly anchor: PointM } | null {
  let best: { lengthM: number; anchor: PointM } | null = null
  for (const across of [along, leftOf(along)]) {
    const perMetre = dot(direction, across)
    if (Math.abs(perMetre) < 0.01) continue
    for (const anchor of anchors) {
      const lengthM = dot(betweenM(fromM, anchor), across) / perMetre
      const offM = Math.abs(lengthM - aheadM)
      if (lengthM <= 0 || offM > reachM) continue
      if (!best || offM < Math.abs(best.lengthM - aheadM)) best = { lengthM, anchor }
    }
  }
  return best
}

/**
 * In line with an anchor along or across the way things are lined up, or with two anchors one each way. What
 * stays free goes to the grid, or in steps of the grid from the anchor where things are not lined up with north.
 */
function inLine(at: PointM, reachM: number, options: SnapOptions): Snapped {
  const { gridM, alongDeg } = options
  const along = directionOf(alongDeg ?? 0)
  const across = leftOf(along)
  const lineAcross = (way: PointM) =>
    firstNearBy(at, reachM, options, (anchors) => nearestLine(at, reachM, anchors, way))
  const first = lineAcross(along)
  const second = lineAcross(across)
  if (!first && !second) {
    if (gridM <= 0) return plain(at)
    const atM = roundPointM({ x: toGrid(at.x, gridM), y: toGrid(at.y, gridM) })
    return { atM, guides: [], onto: 'grid', bearingDeg: null }
  }
  const isNorthUp = (alongDeg ?? 0) % 90 === 0
  const free = (way: PointM, anchor: PointM) => {
    const startM = isNorthUp ? 0 : dot(anchor, way)
    return startM + toGrid(dot(at, way) - startM, gridM)
  }
  const p = first ? dot(first, along) : free(along, second!)
  const q = second ? dot(second, across) : free(across, first!)
  const atM = { x: roundM(p * along.x + q * across.x), y: roundM(p * along.y + q * across.y) }
  const guides = [first, second].flatMap((anchor) => (anchor ? [[anchor, atM] as const] : []))
  return { atM, guides, onto: 'aligned', bearingDeg: null }
}

/** The anchor whose place along a way is nearest to the pointer's, within reach; of equal ones the nearest by. */
function nearestLine(at: PointM, reachM: number, anchors: readonly PointM[], way: PointM): PointM | null {
  let best: PointM | null = null
  let bestM = Infinity
  for (const anchor of anchors) {
    const offM = Math.abs(dot(betweenM(at, anchor), way))
    if (offM > reachM) continue
    // Corners of one row lie in one line but for the last digits of their arithmetic.
    const isBetter = offM < bestM - 1e-6
    const isEqual = best !== null && Math.abs(offM - bestM) <= 1e-6
    if (isBetter || (isEqual && distanceM(at, anchor) < distanceM(at, best!))) {
      best = anchor
      bestM = offM
    }
  }
  return best
}
