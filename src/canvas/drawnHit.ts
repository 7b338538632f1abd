import { partAddressAt } from '../layout/partIndex.ts'
import type { DrawnItem } from '../model/drawnItem.ts'
import type { PointM } from '../model/schema/primitives.ts'
import type { PartHere } from '../tools/draw/drawTool.ts'
import type { MapGeometry } from './geometry.ts'
import type { HitIndex } from './hitIndex.ts'
import { itemPartNear } from './itemHit.ts'
import { partText } from './mapNames.ts'
import { partPointM } from './markPoints.ts'
import { distanceToPathM, type PathSet } from './pathSet.ts'

/** Parts looked at for the one that a conductor would land on. */
const mostParts = 4000

/**
 * The drawn thing at a place, or the nearest within reach: equipment and electrodes, conductors, rows, then aisles and
 * the outlines of obstacles. Null on empty ground. O(runs + drawn things).
 */
export function drawnAt(
  geometry: MapGeometry,
  hits: HitIndex,
  { x, y }: PointM,
  reachM: number,
): DrawnItem | null {
  const { index, items } = geometry
  const { drawing } = index
  const part = itemPartNear(geometry, x, y, reachM)
  if (part >= 0) {
    const address = partAddressAt(index, part)
    if (address.at === 'enclosure' || address.at === 'earthBar' || address.at === 'electrode') {
      return { sort: address.at, id: address.id }
    }
    if (address.at === 'conductor') return { sort: 'conductor', id: address.id }
  }
  const conductor = nearestPath(items.conductors, x, y, reachM)
  if (conductor >= 0) return { sort: 'conductor', id: drawing.conductors[conductor].id }
  const table = hits.tableAt(x, y, reachM / 2)
  if (table) return { sort: 'row', id: drawing.rows[index.rows.runs.row[table.run]].id }
  const aisle = nearestPath(items.aisles, x, y, reachM)
  if (aisle >= 0) return { sort: 'aisle', id: drawing.aisles[aisle].id }
  const obstacle = nearestPath(items.obstacles, x, y, reachM)
  return obstacle >= 0 ? { sort: 'obstacle', id: drawing.obstacles[obstacle].id } : null
}

function nearestPath(paths: PathSet, x: number, y: number, reachM: number): number {
  let nearest = -1
  let nearestM = reachM
  for (let i = 0; i < paths.count; i++) {
    const { boxes } = paths
    const isNear =
      x >= boxes[4 * i] - reachM &&
      y >= boxes[4 * i + 1] - reachM &&
      x <= boxes[4 * i + 2] + reachM &&
      y <= boxes[4 * i + 3] + reachM
    if (!isNear) continue
    const distanceM = distanceToPathM(paths, paths.start[i], paths.start[i + 1] - 1, x, y)
    if (distanceM > nearestM) continue
    nearestM = distanceM
    nearest = i
  }
  return nearest
}

/**
 * The part that a conductor's point there would land on: the one whose mark is nearest within reach; where none is,
 * the part that lies under the place itself. Ends of conductors come after all else, since they stand off what they land on.
 */
export function landingAt(
  geometry: MapGeometry,
  hits: HitIndex,
  at: PointM,
  reachM: number,
): PartHere | null {
  const { index } = geometry
  const rect = { minX: at.x - reachM, minY: at.y - reachM, maxX: at.x + reachM, maxY: at.y + reachM }
  let nearest = -1
  let nearestM = Infinity
  const offer = (part: number) => {
    const mark = partPointM(geometry, part)!
    const offM = Math.hypot(mark.x - at.x, mark.y - at.y) + (part >= index.conductorStart ? reachM : 0)
    if (offM >= nearestM) return
    nearestM = offM
    nearest = part
  }
  hits.partsIn(rect, mostParts).forEach(offer)
  if (nearest < 0) {
    const under = hits.partAt(at.x, at.y, 0)
    if (under < 0) return null
    nearest = under
  }
  return { address: partText(index, nearest), atM: markOf(geometry, nearest) }
}

/** Where a conductor meets a part: at its place in plan, not at the mark of an end that stands off. */
function markOf(geometry: MapGeometry, part: number): PointM {
  const { index } = geometry
  const address = partAddressAt(index, part)
  if (address.at !== 'conductor') return partPointM(geometry, part)!
  const conductor = index.drawing.conductors.find(({ id }) => id === address.id)!
  return conductor.points.find(({ id }) => id === address.point)!.atM
}
