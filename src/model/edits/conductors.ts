import { fail, ok } from '../../base/result.ts'
import { problem } from '../problem.ts'
import { byId } from '../queries/byId.ts'
import type { Drawing } from '../schema/drawing.ts'
import type { Conductor, ConductorPoint } from '../schema/equipment.ts'
import type { PointM } from '../schema/primitives.ts'
import type { Site } from '../schema/site.ts'
import type { Attempt } from './edit.ts'
import { asEdit, commitDrawing, notThere, replaceItem, takeId } from './edit.ts'
import { changingItem, removingItem } from './listEdits.ts'
import { releaseLost } from './releaseLost.ts'

export type NewPoint = Omit<ConductorPoint, 'id'>

export type AddConductor = Omit<Conductor, 'id' | 'points' | 'nextPoint'> & {
  readonly points: readonly NewPoint[]
}

/** A new conductor, its points numbered from 1 along it. */
export const { can: canAddConductor, edit: addConductor } = asEdit<AddConductor>(
  (site, { points, ...fields }) => {
    const [id, counted] = takeId(site.drawing, 'conductor')
    const numbered = points.map((point, k) => ({ id: k + 1, ...point }))
    const conductor = { id, ...fields, points: numbered, nextPoint: points.length + 1 }
    return commitDrawing(site, { ...counted, conductors: [...site.drawing.conductors, conductor] })
  },
)

const changing = changingItem('conductors')

export interface ChangeConductor {
  readonly id: number
  readonly changes: Partial<Omit<Conductor, 'id' | 'points' | 'nextPoint'>>
}

export const canChangeConductor = (site: Site, args: ChangeConductor) => changing.can(site, args)
export const changeConductor = (args: ChangeConductor) => changing.edit(args)

export const { can: canRemoveConductor, edit: removeConductor } = removingItem('conductors')

export interface OnePoint {
  readonly conductor: number
  readonly point: number
}

/** Checks what the conductor itself says before letting others go that landed on what it gives up. */
function commitConductors(site: Site, conductors: Drawing['conductors']): Attempt {
  const attempt = commitDrawing(site, { conductors })
  return attempt.ok ? commitDrawing(site, releaseLost({ ...site.drawing, conductors })) : attempt
}

function changePoints(
  site: Site,
  { conductor: id, point }: OnePoint,
  change: (conductor: Conductor, at: number) => Partial<Conductor>,
): Attempt {
  const conductor = byId(site.drawing.conductors).get(id)
  if (!conductor) return notThere('conductor', id)
  const at = conductor.points.findIndex((p) => p.id === point)
  if (at < 0) return notThere('point', `C${id}.${point}`)
  const conductors = replaceItem(site.drawing.conductors, conductor, change(conductor, at))
  return commitConductors(site, conductors)
}

export interface InsertPoint {
  readonly conductor: number
  /** The point that the new one follows; null to put it first. */
  readonly after: number | null
  readonly at: NewPoint
}

/** Puts a point into a conductor or at one of its ends; it gets an id of its own. */
export const { can: canInsertPoint, edit: insertPoint } = asEdit<InsertPoint>(
  (site, { conductor: id, after, at }) => {
    const conductor = byId(site.drawing.conductors).get(id)
    if (!conductor) return notThere('conductor', id)
    const place = after === null ? 0 : conductor.points.findIndex((point) => point.id === after) + 1
    if (after !== null && place === 0) return notThere('point', `C${id}.${after}`)
    const points = conductor.points.toSpliced(place, 0, { id: conductor.nextPoint, ...at })
    const changes = { points, nextPoint: conductor.nextPoint + 1 }
    const conductors = replaceItem(site.drawing.conductors, conductor, changes)
    return commitConductors(site, conductors)
  },
)

export interface MovePoint extends OnePoint {
  readonly toM: PointM
}

export const { can: canMovePoint, edit: movePoint } = asEdit<MovePoint>((site, args) =>
  changePoints(site, args, ({ points }, at) => ({
    points: points.with(at, { ...points[at], atM: args.toM }),
  })),
)

export interface LandPoint extends OnePoint {
  /** The part that the point lands on and the joint to it; null to lift it off. */
  readonly landing: ConductorPoint['landing']
}

export const { can: canLandPoint, edit: landPoint } = asEdit<LandPoint>((site, args) =>
  changePoints(site, args, ({ points }, at) => ({
    points: points.with(at, { ...points[at], landing: args.landing }),
  })),
)

/** Takes a point out of a conductor, which keeps at least two. */
export const { can: canRemovePoint, edit: removePoint } = asEdit<OnePoint>((site, args) => {
  const points = byId(site.drawing.conductors).get(args.conductor)?.points
  if (points && points.length <= 2 && points.some(({ id }) => id === args.point)) {
    const reason = 'a conductor has two points or more; remove the conductor instead'
    return fail(problem('value.inconsistent', { reason }, { address: `C${args.conductor}.${args.point}` }))
  }
  return changePoints(site, args, (conductor, at) => ({ points: conductor.points.toSpliced(at, 1) }))
})

export interface MoveConductor {
  readonly conductor: number
  readonly byM: PointM
}

/** Moves a whole conductor; what it lands on stays the same. */
export const { can: canMoveConductor, edit: moveConductor } = asEdit<MoveConductor>(
  (site, { conductor: id, byM }) => {
    const conductor = byId(site.drawing.conductors).get(id)
    if (!conductor) return notThere('conductor', id)
    if (byM.x === 0 && byM.y === 0) return ok(site)
    const points = conductor.points.map((point) => ({
      ...point,
      atM: { x: point.atM.x + byM.x, y: point.atM.y + byM.y },
    }))
    return commitDrawing(site, { conductors: replaceItem(site.drawing.conductors, conductor, { points }) })
  },
)
