import type { PointM } from '../model/schema/primitives.ts'
import { isInside } from './itemBox.ts'
import { itemOutlineM } from './itemOutline.ts'
import { firstPartOf, patternOfRun } from './partIndex.ts'
import { runFrame } from './positions.ts'
import type { SiteIndex } from './siteIndex.ts'

export interface NearMetal {
  readonly part: number
  /** In plan; 0 where the point lies under or in it. */
  readonly distanceM: number
}

/**
 * Metal above ground within reach of a point in plan, nearest first: module frames, posts, enclosures, earth bars; electrodes
 * too where what is buried is asked for. Heights are
 * not counted: a frame above one’s head is as near as one at the hand. O(runs + parts of the tables in reach + equipment).
 */
export function metalNear(
  index: SiteIndex,
  atM: PointM,
  reachM: number,
  isBuriedToo = false,
): readonly NearMetal[] {
  const found: NearMetal[] = []
  const add = (part: number, distanceM: number) => {
    if (distanceM <= reachM) found.push({ part, distanceM })
  }
  for (let run = 0; run < index.rows.runs.count.length; run++) addOfRun(index, run, atM, reachM, add)
  const { enclosures, earthBars, electrodes } = index.drawing
  enclosures.forEach(({ id }, k) =>
    add(index.enclosureStart + k, toOutlineM(index, { sort: 'enclosure', id }, atM)),
  )
  earthBars.forEach(({ id }, k) =>
    add(index.earthBarStart + k, toOutlineM(index, { sort: 'earthBar', id }, atM)),
  )
  if (isBuriedToo)
    electrodes.forEach(({ id }, k) =>
      add(index.electrodeStart + k, toOutlineM(index, { sort: 'electrode', id }, atM)),
    )
  return found.sort((a, b) => a.distanceM - b.distanceM || a.part - b.part)
}

function addOfRun(
  index: SiteIndex,
  run: number,
  atM: PointM,
  reachM: number,
  add: (part: number, distanceM: number) => void,
): void {
  const { corner, step, along, up } = runFrame(index, run)
  const { size, longStart, postStart, partCount, xM, yM } = patternOfRun(index, run)
  const east = atM.x - corner.x
  const north = atM.y - corner.y
  const alongM = east * along.x + north * along.y
  const upM = east * up.x + north * up.y
  if (upM < -reachM || upM > size.upM + reachM) return
  const pitchM = step.x * along.x + step.y * along.y
  const first = Math.max(0, Math.ceil((alongM - size.alongM - reachM) / pitchM))
  const last = Math.min(index.rows.runs.count[run] - 1, Math.floor((alongM + reachM) / pitchM))
  for (let place = first; place <= last; place++) {
    const part = firstPartOf(index, { run, place })
    const inTableM = alongM - place * pitchM
    for (let local = 0; local < partCount; local++) {
      if (local >= longStart && local < postStart) continue
      const isFrame = local < longStart
      const aside = Math.abs(inTableM - xM[local]) - (isFrame ? size.frameAlongM / 2 : 0)
      const above = Math.abs(upM - yM[local]) - (isFrame ? size.frameUpM / 2 : 0)
      add(part + local, Math.hypot(Math.max(aside, 0), Math.max(above, 0)))
    }
  }
}

function toOutlineM(index: SiteIndex, item: Parameters<typeof itemOutlineM>[1], { x, y }: PointM): number {
  const outline = itemOutlineM(index, item)
  if (!outline) return Infinity
  const { pointsM: points, isClosed, isArea } = outline
  let least = Infinity
  points.forEach((a, k) => {
    if (k + 1 === points.length && !isClosed) return
    const b = points[(k + 1) % points.length]
    const [dx, dy] = [b.x - a.x, b.y - a.y]
    const size = dx * dx + dy * dy
    const share = size > 0 ? Math.min(Math.max(((x - a.x) * dx + (y - a.y) * dy) / size, 0), 1) : 0
    least = Math.min(least, Math.hypot(a.x + share * dx - x, a.y + share * dy - y))
  })
  return isArea && isInside({ x, y }, points) ? 0 : least
}
