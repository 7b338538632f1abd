import { parsePartAddress } from '../address.ts'
import type { BySort, DrawnItem, DrawnSort } from '../drawnItem.ts'
import { drawnOfSort, listOfSort } from '../drawnItem.ts'
import type { Motion } from '../motion.ts'
import { movedConductor, movedThing } from '../movedThings.ts'
import { byId } from '../queries/byId.ts'
import { sections } from '../checks/sections.ts'
import type { Drawing } from '../schema/drawing.ts'
import type { ConductorPoint } from '../schema/equipment.ts'
import type { Site } from '../schema/site.ts'
import type { Attempt } from './edit.ts'
import { commitDrawing, notThere } from './edit.ts'

/** Where each of several things goes. */
export type Motions = Readonly<Record<DrawnSort, ReadonlyMap<number, Motion>>>

/** The motion of each item; of an item given twice the first counts. */
export function motionsOf(
  items: readonly DrawnItem[],
  motionOf: (item: DrawnItem, k: number) => Motion | null,
): Motions {
  const motions = {
    row: new Map<number, Motion>(),
    enclosure: new Map<number, Motion>(),
    earthBar: new Map<number, Motion>(),
    electrode: new Map<number, Motion>(),
    conductor: new Map<number, Motion>(),
    aisle: new Map<number, Motion>(),
    obstacle: new Map<number, Motion>(),
  }
  items.forEach((item, k) => {
    const motion = motionOf(item, k)
    if (motion && !motions[item.sort].has(item.id)) motions[item.sort].set(item.id, motion)
  })
  return motions
}

/** The first of the items that the drawing has not, as a refusal; null when all are there. */
export function firstMissing(drawing: Drawing, items: readonly DrawnItem[]): Attempt | null {
  for (const { sort, id } of items) {
    const name = listOfSort[sort]
    const list: readonly { readonly id: number }[] = drawing[name]
    if (!byId<number, { readonly id: number }>(list).has(id)) return notThere(sections[name].what, id)
  }
  return null
}

/**
 * Puts things somewhere else, as one change. A point of a conductor that lands on something stays with that,
 * whether the conductor is among them or not: it goes where that goes, and does not leave what stays. Its other points go
 * with the conductor.
 * What did not move keeps its identity. O(things of the sorts concerned + all landings).
 */
export function placeItems(site: Site, motions: Motions): Attempt {
  const { drawing } = site
  return commitDrawing(site, {
    rows: placeSort(drawing, 'row', motions),
    enclosures: placeSort(drawing, 'enclosure', motions),
    earthBars: placeSort(drawing, 'earthBar', motions),
    electrodes: placeSort(drawing, 'electrode', motions),
    conductors: placeConductors(drawing, motions),
    aisles: placeSort(drawing, 'aisle', motions),
    obstacles: placeSort(drawing, 'obstacle', motions),
  })
}

function placeSort<S extends DrawnSort>(drawing: Drawing, sort: S, motions: Motions): readonly BySort[S][] {
  const things = drawnOfSort(drawing, sort)
  const ofSort = motions[sort]
  if (ofSort.size === 0) return things
  const place = (thing: BySort[S]) => {
    const motion = ofSort.get(thing.id)
    return motion ? movedThing(sort, thing, motion) : thing
  }
  return ifAnyOther(things, things.map(place))
}

function placeConductors(drawing: Drawing, motions: Motions): Drawing['conductors'] {
  const ofPoint = motionOfPoints(drawing, motions)
  return ifAnyOther(
    drawing.conductors,
    drawing.conductors.map((conductor) => movedConductor(conductor, (point) => ofPoint(conductor.id, point))),
  )
}

type PointMotion = (conductor: number, point: ConductorPoint) => Motion | null

/** Follows landings from conductor to conductor; two that land on each other only move nothing. */
function motionOfPoints(drawing: Drawing, motions: Motions): PointMotion {
  const follow = (
    conductor: number,
    point: ConductorPoint,
    way: readonly ConductorPoint[],
  ): Motion | null => {
    const address = point.landing && parsePartAddress(point.landing.part)
    if (!address) return motions.conductor.get(conductor) ?? null
    if (way.includes(point)) return null
    switch (address.at) {
      case 'table':
        return motions.row.get(address.row) ?? null
      case 'remoteEarth':
        return null
      case 'conductor': {
        const points = byId(drawing.conductors).get(address.id)?.points
        const next = points?.find(({ id }) => id === address.point)
        return next ? follow(address.id, next, [...way, point]) : null
      }
      default:
        return motions[address.at].get(address.id) ?? null
    }
  }
  return (conductor, point) => follow(conductor, point, [])
}

function ifAnyOther<T>(old: readonly T[], items: readonly T[]): readonly T[] {
  return items.some((item, k) => item !== old[k]) ? items : old
}
