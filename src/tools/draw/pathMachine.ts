import { distanceM, pathLengthM } from '../../layout/path.ts'
import type { Told } from '../../model/drawDeed.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import { bearingDegOf, wholeTurnDeg } from './bearing.ts'
import type { DrawContext, DrawEvent, DrawPoint, DrawPreview, PartHere } from './drawTool.ts'
import { noPreview } from './drawTool.ts'
import { isSamePlace } from './places.ts'
import { previewOf, snappedShown } from './preview.ts'
import type { Snapped } from './snap.ts'
import { snapHere } from './snap.ts'

/** What is drawn point by point: conductors, strips, aisles, outlines, a measured way. */
export interface PathState {
  readonly points: readonly PathPoint[]
}

export interface PathPoint {
  readonly atM: PointM
  /** The part that the point lands on. */
  readonly part: PartHere | null
}

export interface PathRules {
  /** Points of a whole path, at least. */
  readonly least: number
  /** The path ends by itself with so many points; null for as many as are drawn. */
  readonly most: number | null
  /** It comes back to its first point, and ends when that is pressed. */
  readonly closes: boolean
  /** Its points land on parts. */
  readonly lands: boolean
}

export interface PathMove {
  readonly state: PathState
  readonly preview: DrawPreview | null
  /** The points of a path that has ended; null while it is drawn. */
  readonly ended: readonly PathPoint[] | null
}

export const idlePath: PathState = { points: [] }

type Refused = Extract<Told, { fact: 'refused' }>['reason']

/**
 * A path by taps, each a point; pressing the last point again or `finish` ends it, `back` takes the last point away.
 * A drag is two points, or one more where it begins at the last. A path never has one part, or one place, twice
 * running.
 */
export function movePath(
  state: PathState,
  event: DrawEvent,
  context: DrawContext,
  rules: PathRules,
): PathMove {
  switch (event.kind) {
    case 'cancel':
      return shown(idlePath, null)
    case 'leave':
      return shown(state, restingPath(state, rules))
    case 'back': {
      const points = state.points.slice(0, -1)
      return points.length === 0 ? shown(idlePath, null) : shown({ points }, restingPath({ points }, rules))
    }
    case 'finish':
      if (state.points.length >= rules.least) return over(state.points)
      return state.points.length === 0 ? shown(state, null) : refused(state, rules, 'tooShort')
    case 'hover':
      return shown(state, growingPath(state, event.at, context, rules))
    case 'tap':
      return placed(state, event.at, context, rules)
    case 'drag': {
      const begun = begunBy(state, event.from, context, rules)
      return shown(state, growingPath(begun, event.at, context, rules))
    }
    case 'drop': {
      const begun = begunBy(state, event.from, context, rules)
      return placed(begun, event.at, context, rules)
    }
  }
}

/** Whether a drag that begins here draws: from the last point, from a part, or as the first leg on open ground. */
export function ownsPathDrag({ points }: PathState, at: DrawPoint, { lands, most }: PathRules): boolean {
  if (most === 1) return false
  if (points.length > 0 && isAtPoint(at, points[points.length - 1])) return true
  return lands ? partAt(at) !== null : points.length === 0
}

function shown(state: PathState, preview: DrawPreview | null): PathMove {
  return { state, preview, ended: null }
}

function over(points: readonly PathPoint[]): PathMove {
  return { state: idlePath, preview: null, ended: points }
}

function refused(state: PathState, rules: PathRules, reason: Refused): PathMove {
  return shown(state, { ...(restingPath(state, rules) ?? noPreview), told: { fact: 'refused', reason } })
}

/** The path as it is when a drag sets out: its first point comes with the drag, or a part that it begins on. */
function begunBy(state: PathState, from: DrawPoint, context: DrawContext, rules: PathRules): PathState {
  const last = state.points.at(-1)
  if (last && (isAtPoint(from, last) || !landingOf(from, rules))) return state
  return { points: [...state.points, pointOf(state, from, context, rules)] }
}

function placed(state: PathState, at: DrawPoint, context: DrawContext, rules: PathRules): PathMove {
  const { points } = state
  const point = pointOf(state, at, context, rules)
  const last = points.at(-1)
  if (last && (isAtPoint(at, last) || isSamePlace(point.atM, last.atM))) {
    if (points.length >= rules.least) return over(points)
    return refused(state, rules, point.part ? 'samePart' : 'tooShort')
  }
  if (rules.closes && last && (isAtPoint(at, points[0]) || isSamePlace(point.atM, points[0].atM))) {
    return points.length >= rules.least ? over(points) : refused(state, rules, 'tooShort')
  }
  const longer = { points: [...points, point] }
  if (rules.most !== null && longer.points.length >= rules.most) return over(longer.points)
  const told: Told | null = point.part && { fact: 'land', part: point.part.address }
  return shown(longer, restingPath(longer, rules, told))
}

function pointOf(state: PathState, at: DrawPoint, context: DrawContext, rules: PathRules): PathPoint {
  return { atM: snapNext(state, at, context, rules).atM, part: landingOf(at, rules) }
}

function landingOf(at: DrawPoint, { lands }: PathRules): PartHere | null {
  return lands ? partAt(at) : null
}

function partAt({ isFree, part }: DrawPoint): PartHere | null {
  return isFree ? null : part
}

/** Whether the pointer means a point of the path: the same part, or so near that nothing else can be meant. */
function isAtPoint(at: DrawPoint, point: PathPoint): boolean {
  const part = partAt(at)
  if (part && point.part) return part.address === point.part.address
  return distanceM(at.atM, point.atM) <= at.reachM
}

/** Where the next point would be: square to the last leg or straight on where it comes near that. */
export function snapNext(
  { points }: PathState,
  at: DrawPoint,
  context: DrawContext,
  rules: PathRules,
): Snapped {
  const own = points.map(({ atM }) => atM)
  const fromM = own.at(-1) ?? null
  const legDeg = own.length < 2 ? null : bearingDegOf(own[own.length - 2], own[own.length - 1])
  return snapHere(context, at, {
    part: landingOf(at, rules),
    fromM,
    isStraight: at.isAdding,
    straightDeg: legDeg,
    catchDeg: legDeg === null ? [] : [0, 90, 270].map((turn) => wholeTurnDeg(legDeg + turn)),
    anchorsNear: (atM, withinM) => [...context.anchorsNear(atM, withinM), ...own],
  })
}

function growingPath(state: PathState, at: DrawPoint, context: DrawContext, rules: PathRules): DrawPreview {
  const next = snapNext(state, at, context, rules)
  const own = state.points.map(({ atM }) => atM)
  const landing = landingOf(at, rules)
  return previewOf({
    lines: linesOf([...own, next.atM], rules),
    points: own,
    landed: landedOf(state),
    ...snappedShown(next),
    told: landing ? { fact: 'land', part: landing.address } : lengthTold([...own, next.atM]),
  })
}

function restingPath(state: PathState, rules: PathRules, told: Told | null = null): DrawPreview | null {
  if (state.points.length === 0) return null
  const own = state.points.map(({ atM }) => atM)
  const lines = linesOf(own, rules)
  return previewOf({ lines, points: own, landed: landedOf(state), told: told ?? lengthTold(own) })
}

function landedOf({ points }: PathState): readonly PointM[] {
  return points.flatMap(({ atM, part }) => (part ? [atM] : []))
}

function linesOf(points: readonly PointM[], { closes }: PathRules): readonly (readonly PointM[])[] {
  if (points.length < 2) return []
  return [closes && points.length > 2 ? [...points, points[0]] : points]
}

function lengthTold(points: readonly PointM[]): Told | null {
  return points.length < 2
    ? null
    : { fact: 'path', lengthM: pathLengthM(points, false), points: points.length }
}
