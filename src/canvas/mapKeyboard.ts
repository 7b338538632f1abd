import { firstPartOf, partKindAt } from '../layout/partIndex.ts'
import { frameCode } from '../layout/partKinds.ts'
import type { MapGeometry } from './geometry.ts'
import type { HitIndex } from './hitIndex.ts'
import type { PointPx } from './mapTypes.ts'
import { partPointM, tableOfPart } from './markPoints.ts'

export type Direction = 'left' | 'right' | 'up' | 'down'

/** What a key asks of the map. */
export type MapCommand =
  | { readonly order: 'step'; readonly towards: Direction; readonly toAnyPart: boolean }
  | { readonly order: 'pan'; readonly towards: Direction }
  | { readonly order: 'zoom'; readonly isIn: boolean }
  | { readonly order: 'suspect'; readonly by: 1 | -1 }
  | { readonly order: 'fit' | 'pick' | 'link' | 'clear' }

/** The help that is read out with the map's name. */
export const keyHelp =
  'Arrow keys move to the next module or equipment, with Control to the next part of any kind. Enter chooses it, ' +
  'Enter again its joint, then its table. L begins a pair here, L on another part links the two. Page Down and ' +
  'Page Up go through the suspects. Plus and minus zoom, 0 shows the whole site, Shift with arrows moves the map, ' +
  'Escape clears.'

/** The same while the map is drawn on. */
export const drawKeyHelp =
  'Arrow keys move a cross by one line of the grid, with Shift by ten; with something chosen they move it. Space taps ' +
  'at the cross, Enter ends a line, Backspace takes its last point back, Escape gives up. Page Down and Page Up ' +
  'choose the next and the previous thing drawn. Delete removes what is chosen. Question mark lists all keys.'

const directions: Readonly<Record<string, Direction>> = {
  ArrowLeft: 'left',
  ArrowRight: 'right',
  ArrowUp: 'up',
  ArrowDown: 'down',
}

const orders: Readonly<Record<string, MapCommand>> = {
  '+': { order: 'zoom', isIn: true },
  '=': { order: 'zoom', isIn: true },
  '-': { order: 'zoom', isIn: false },
  _: { order: 'zoom', isIn: false },
  '0': { order: 'fit' },
  f: { order: 'fit' },
  enter: { order: 'pick' },
  ' ': { order: 'pick' },
  l: { order: 'link' },
  escape: { order: 'clear' },
  pagedown: { order: 'suspect', by: 1 },
  pageup: { order: 'suspect', by: -1 },
}

/** The command of a key press; null where the key is not the map's. */
export function commandOf({
  key,
  shiftKey,
  ctrlKey,
  altKey,
  metaKey,
}: Pick<KeyboardEvent, 'key' | 'shiftKey' | 'ctrlKey' | 'altKey' | 'metaKey'>): MapCommand | null {
  if (altKey || metaKey) return null
  const towards = directions[key]
  if (towards) {
    return shiftKey ? { order: 'pan', towards } : { order: 'step', towards, toAnyPart: ctrlKey }
  }
  return ctrlKey ? null : (orders[key.toLowerCase()] ?? null)
}

/** Unit vector of a direction on the screen, y down. */
export const screenDirections: Readonly<Record<Direction, PointPx>> = {
  left: { x: -1, y: 0 },
  right: { x: 1, y: 0 },
  up: { x: 0, y: -1 },
  down: { x: 0, y: 1 },
}

export interface StepOptions {
  /** Nearer parts are passed over, so that a step is seen at every zoom. */
  readonly leastM: number
  /** Members and posts too, else modules and equipment only. */
  readonly toAnyPart: boolean
}

const firstReachM = 3
const mostLooked = 20_000
/** Steps of at least so many metres go from table to table: the modules between are passed over anyway. */
const tableStepM = 6
/** Off the line costs twice; equipment costs a little, so that modules come first. */
const asideCost = 2
const equipmentCostM = 1.5

/**
 * The next part from a part in a direction of the screen: within 45° of it, the nearest, straight ahead before
 * aside. −1 where there is none. Looks at growing rectangles: O(parts of those).
 */
export function partTowards(
  geometry: MapGeometry,
  hits: HitIndex,
  part: number,
  towards: Direction,
  { leastM, toAnyPart }: StepOptions,
): number {
  const from = partPointM(geometry, part)
  if (!from) return -1
  const { x: dx, y: down } = screenDirections[towards]
  const dy = -down
  const table = leastM >= tableStepM && !toAnyPart ? tableOfPart(geometry, part) : null
  const local = table ? part - firstPartOf(geometry.index, table) : 0
  const { minX, minY, maxX, maxY } = geometry.boundsM
  const siteM = Math.hypot(maxX - minX, maxY - minY)
  for (let reachM = Math.max(firstReachM, 2 * leastM); ; reachM *= 3) {
    const west = from.x - (dx > 0 ? 0 : reachM)
    const east = from.x + (dx < 0 ? 0 : reachM)
    const south = from.y - (dy > 0 ? 0 : reachM)
    const north = from.y + (dy < 0 ? 0 : reachM)
    let best = -1
    let bestCostM = reachM
    const rect = { minX: west, minY: south, maxX: east, maxY: north }
    const others =
      leastM >= tableStepM && !toAnyPart
        ? hits.landmarksIn(rect, local, mostLooked)
        : hits.partsIn(rect, mostLooked)
    for (const other of others) {
      const isFrame = partKindAt(geometry.index, other) === frameCode
      if (other === part || !(toAnyPart || isFrame || other >= geometry.index.enclosureStart)) continue
      const to = partPointM(geometry, other)!
      const aheadM = (to.x - from.x) * dx + (to.y - from.y) * dy
      const asideM = Math.abs((to.x - from.x) * dy - (to.y - from.y) * dx)
      if (aheadM < leastM || asideM > aheadM) continue
      const costM = aheadM + asideCost * asideM + (isFrame || toAnyPart ? 0 : equipmentCostM)
      if (costM >= bestCostM) continue
      best = other
      bestCostM = costM
    }
    if (best >= 0 || reachM > 3 * siteM) return best
  }
}
