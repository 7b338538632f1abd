import { parseJointAddress, parsePartAddress } from './address.ts'
import type { DrawnItem, DrawnSort } from './drawnItem.ts'
import { drawnSorts } from './drawnItem.ts'
import { jointExists } from './presence.ts'
import { ownerOfJoint, ownerOfPart } from './readdress.ts'
import type { Drawing } from './schema/drawing.ts'
import type { Conductor } from './schema/equipment.ts'

/** The lists of a drawing that something drawn, or what hangs on it, stands in. */
export const fragmentLists = [
  'rows',
  'enclosures',
  'earthBars',
  'electrodes',
  'conductors',
  'aisles',
  'obstacles',
  'extraJoints',
  'differingJoints',
] as const

/**
 * Some things of a drawing, complete in itself: conductors land only on what is in it, extra joints have both ends
 * in it, and the joints of it that are designed otherwise are with it. As-built differences are findings about the
 * one thing where they were found, and stay behind.
 */
export type Fragment = Pick<Drawing, (typeof fragmentLists)[number]>

/** Items that the drawing has not are left out. O(drawn things + landings + differing and extra joints). */
export function fragmentOf(drawing: Drawing, items: readonly DrawnItem[]): Fragment {
  const chosen = new Map(drawnSorts.map((sort) => [sort, new Set<number>()]))
  for (const { sort, id } of items) chosen.get(sort)!.add(id)
  const take = <T extends { readonly id: number }>(sort: DrawnSort, list: readonly T[]) =>
    list.filter(({ id }) => chosen.get(sort)!.has(id))
  const isIn = (owner: DrawnItem | null) => owner !== null && chosen.get(owner.sort)!.has(owner.id)
  const isPartIn = (text: string) => {
    const address = parsePartAddress(text)
    return address !== null && isIn(ownerOfPart(address))
  }
  return {
    rows: take('row', drawing.rows),
    enclosures: take('enclosure', drawing.enclosures),
    earthBars: take('earthBar', drawing.earthBars),
    electrodes: take('electrode', drawing.electrodes),
    conductors: take('conductor', drawing.conductors).map((conductor) => landingOnly(conductor, isPartIn)),
    aisles: take('aisle', drawing.aisles),
    obstacles: take('obstacle', drawing.obstacles),
    extraJoints: drawing.extraJoints.filter(({ from, to }) => isPartIn(from) && isPartIn(to)),
    differingJoints: drawing.differingJoints.filter(({ joint }) => {
      const address = parseJointAddress(joint)
      return address !== null && isIn(ownerOfJoint(address)) && jointExists(drawing, address)
    }),
  }
}

/** The conductor with its landings elsewhere let go. */
function landingOnly(conductor: Conductor, isPartIn: (part: string) => boolean): Conductor {
  const isLost = ({ landing }: Conductor['points'][number]) => landing !== null && !isPartIn(landing.part)
  if (!conductor.points.some(isLost)) return conductor
  const points = conductor.points.map((point) => (isLost(point) ? { ...point, landing: null } : point))
  return { ...conductor, points }
}
