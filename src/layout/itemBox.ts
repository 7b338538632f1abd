import type { BoxM } from '../model/boxM.ts'
import { boxAround, boxAroundBoxes, centreOfBox, doBoxesMeet, isBoxWithin } from '../model/boxM.ts'
import type { DrawnItem } from '../model/drawnItem.ts'
import { allDrawn } from '../model/drawnItem.ts'
import type { PointM } from '../model/schema/primitives.ts'
import type { ItemOutline } from './itemOutline.ts'
import { itemOutlineM } from './itemOutline.ts'
import type { SiteIndex } from './siteIndex.ts'

/** The box around a drawn thing; null where the drawing has it no more. */
export function itemBoxM(index: SiteIndex, item: DrawnItem): BoxM | null {
  const outline = itemOutlineM(index, item)
  return outline && boxAround(outline.pointsM)
}

/** The box around several drawn things together; null around none. */
export function boxOfItems(index: SiteIndex, items: readonly DrawnItem[]): BoxM | null {
  return boxAroundBoxes(
    items.flatMap((item) => {
      const box = itemBoxM(index, item)
      return box ? [box] : []
    }),
  )
}

/**
 * The drawn things that lie wholly in a box, or that it touches: a line by crossing the box, an area also by
 * lying around it. In the order of `allDrawn`. O(drawn things and their points).
 */
export function itemsInBox(index: SiteIndex, box: BoxM, wholly: boolean): readonly DrawnItem[] {
  return allDrawn(index.drawing).filter((item) => {
    const outline = itemOutlineM(index, item)
    const around = outline && boxAround(outline.pointsM)
    if (!outline || !around || !doBoxesMeet(around, box)) return false
    return isBoxWithin(around, box) || (!wholly && touches(outline, box))
  })
}

function touches({ pointsM, isClosed, isArea }: ItemOutline, box: BoxM): boolean {
  const legs = isClosed ? pointsM.length : pointsM.length - 1
  for (let i = 0; i < legs; i++) {
    if (crossesBox(pointsM[i], pointsM[(i + 1) % pointsM.length], box)) return true
  }
  return isArea && isInside(centreOfBox(box), pointsM)
}

/**
 * Whether any of a straight leg lies in the box: what is left of the leg between the two lines of x and the two of
 * y (clipping after Liang and Barsky, 1984).
 */
function crossesBox(a: PointM, b: PointM, box: BoxM): boolean {
  let [from, to] = [0, 1]
  const cut = (start: number, change: number, least: number, most: number): boolean => {
    if (change === 0) return start >= least && start <= most
    const [enter, leave] = [(least - start) / change, (most - start) / change]
    from = Math.max(from, Math.min(enter, leave))
    to = Math.min(to, Math.max(enter, leave))
    return from <= to
  }
  return cut(a.x, b.x - a.x, box.minX, box.maxX) && cut(a.y, b.y - a.y, box.minY, box.maxY)
}

/** Whether a point lies inside a closed outline: a ray from it crosses the outline an odd number of times. */
export function isInside({ x, y }: PointM, outline: readonly PointM[]): boolean {
  let inside = false
  for (let i = 0, k = outline.length - 1; i < outline.length; k = i++) {
    const [a, b] = [outline[i], outline[k]]
    if (a.y > y !== b.y > y && x < a.x + ((y - a.y) / (b.y - a.y)) * (b.x - a.x)) inside = !inside
  }
  return inside
}
