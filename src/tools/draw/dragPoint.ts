import { distanceM } from '../../layout/path.ts'
import type { DrawnItem } from '../../model/drawnItem.ts'
import { findDrawn } from '../../model/drawnItem.ts'
import { landPoint, movePoint } from '../../model/edits/conductors.ts'
import type { Edit } from '../../model/edits/edit.ts'
import { changeElectrode } from '../../model/edits/equipment.ts'
import { changeAisle, changeObstacle } from '../../model/edits/surroundings.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import type { Conductor } from '../../model/schema/equipment.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import { landingOn } from './conductorTool.ts'
import type { DrawContext, DrawPoint, PartHere } from './drawTool.ts'
import type { Snapped } from './snap.ts'
import { snapHere } from './snap.ts'

/** A point of the one chosen path. */
export interface HeldPoint {
  readonly item: DrawnItem
  readonly points: readonly PointM[]
  readonly isClosed: boolean
  /** Which of the points. */
  readonly at: number
  /** The part that the point lands on now. */
  readonly landsOn: string | null
}

/** The point of the one chosen path that a drag takes; null where it takes none. O(points). */
export function pointHeld(from: DrawPoint, { chosen, drawing }: DrawContext): HeldPoint | null {
  if (chosen.length !== 1) return null
  const path = pathOf(drawing, chosen[0])
  if (!path) return null
  const marked = path.addresses.indexOf(from.part?.address ?? '')
  let at = marked
  if (marked < 0) {
    const offM = path.points.map((point) => distanceM(point, from.atM))
    at = offM.indexOf(Math.min(...offM))
    if (offM[at] > from.reachM) return null
  }
  const { points, isClosed, landings } = path
  return { item: chosen[0], points, isClosed, at, landsOn: landings[at] ?? null }
}

const unlanded = { addresses: [], landings: [] }

function pathOf(
  drawing: Drawing,
  { sort, id }: DrawnItem,
): {
  readonly points: readonly PointM[]
  readonly isClosed: boolean
  /** Addresses of the points, and what they land on; of a conductor only. */
  readonly addresses: readonly string[]
  readonly landings: readonly (string | null)[]
} | null {
  switch (sort) {
    case 'conductor': {
      const conductor = findDrawn(drawing, sort, id)
      if (!conductor) return null
      const { points, closed } = conductor
      const addresses = points.map((point) => `C${id}.${point.id}`)
      const landings = points.map(({ landing }) => landing?.part ?? null)
      return { points: points.map(({ atM }) => atM), isClosed: closed, addresses, landings }
    }
    case 'electrode': {
      const electrode = findDrawn(drawing, sort, id)
      if (electrode?.form !== 'strip') return null
      return { points: electrode.pathM, isClosed: electrode.closed, ...unlanded }
    }
    case 'aisle': {
      const aisle = findDrawn(drawing, sort, id)
      return aisle && { points: aisle.pathM, isClosed: false, ...unlanded }
    }
    case 'obstacle': {
      const obstacle = findDrawn(drawing, sort, id)
      return obstacle && { points: obstacle.outlineM, isClosed: true, ...unlanded }
    }
    default:
      return null
  }
}

/** Where a held point would go: a conductor's onto a part; in line with the points beside it. */
export function snapHeld(
  held: HeldPoint,
  at: DrawPoint,
  context: DrawContext,
): Snapped & { readonly part: PartHere | null } {
  const others = held.points.filter((_, k) => k !== held.at)
  const before = held.points[held.at - 1] ?? held.points[held.at + 1]
  const part = partFor(held, at)
  const snapped = snapHere(context, at, {
    part,
    fromM: before,
    isStraight: at.isAdding,
    anchorsNear: (atM, withinM) => [...context.anchorsNear(atM, withinM, [held.item]), ...others],
  })
  return { ...snapped, part }
}

/** A conductor does not land on itself. */
function partFor({ item }: HeldPoint, { part, isFree }: DrawPoint): PartHere | null {
  if (item.sort !== 'conductor' || isFree || !part) return null
  return part.address.startsWith(`C${item.id}.`) ? null : part
}

/** The path with its point elsewhere. A conductor's point lands on the part there, and on nothing else. */
export function moveHeld(held: HeldPoint, toM: PointM, part: PartHere | null, context: DrawContext): Edit {
  const { item } = held
  const moved = held.points.with(held.at, toM)
  switch (item.sort) {
    case 'electrode':
      return changeElectrode({ id: item.id, changes: { pathM: moved } })
    case 'aisle':
      return changeAisle({ id: item.id, changes: { pathM: moved } })
    case 'obstacle':
      return changeObstacle({ id: item.id, changes: { outlineM: moved } })
    default:
      return moveConductorPoint(
        findDrawn(context.drawing, 'conductor', item.id)!,
        held.at,
        toM,
        part,
        context,
      )
  }
}

function moveConductorPoint(
  conductor: Conductor,
  at: number,
  toM: PointM,
  part: PartHere | null,
  { making }: DrawContext,
): Edit {
  const { id: point, landing: before } = conductor.points[at]
  const isSame = part !== null && before?.part === part.address
  const landing = isSame ? before : part && landingOn(part.address, making)
  const moved = movePoint({ conductor: conductor.id, point, toM })
  const landed = landPoint({ conductor: conductor.id, point, landing })
  return (site) => landed(moved(site))
}
