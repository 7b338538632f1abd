import type { MapGeometry } from './geometry.ts'
import type { HitIndex } from './hitIndex.ts'
import { partText } from './mapNames.ts'
import { toScreen, toWorld, type View } from './mapTypes.ts'
import { partPointM } from './markPoints.ts'
import type { Box } from './overlayCurves.ts'
import { boxAround } from './overlayLabels.ts'
import { partOutline } from './overlayOutlines.ts'

/** The part that the keyboard stands on, by its address, and its box on the screen. */
export interface KeyboardPlace {
  readonly part: string
  readonly box: Box
}

/** Small parts get a box that can be seen and hit. */
const leastBoxPx = 24

/** Null where there is no such part on the map. */
export function keyboardPlace(geometry: MapGeometry, view: View, part: number): KeyboardPlace | null {
  const atM = part < 0 ? null : partPointM(geometry, part)
  if (!atM) return null
  const outline = partOutline(geometry, part)
  const corners = outline?.form === 'area' ? outline.cornersM.map((corner) => toScreen(view, corner)) : []
  const least = boxAround(toScreen(view, atM), leastBoxPx, leastBoxPx)
  return {
    part: partText(geometry.index, part),
    box: {
      left: Math.min(least.left, ...corners.map(({ x }) => x)),
      top: Math.min(least.top, ...corners.map(({ y }) => y)),
      right: Math.max(least.right, ...corners.map(({ x }) => x)),
      bottom: Math.max(least.bottom, ...corners.map(({ y }) => y)),
    },
  }
}

/** Where the keyboard begins: the part nearest to the middle of the view; −1 where the map has none. */
export function firstPlace({ index }: MapGeometry, hits: HitIndex, view: View): number {
  const middle = toWorld(view, { x: view.widthPx / 2, y: view.heightPx / 2 })
  const reachM = Math.max(view.widthPx, view.heightPx) / view.k
  const nearest = hits.partAt(middle.x, middle.y, reachM, 'frames')
  return nearest >= 0 ? nearest : index.partCount > 0 ? 0 : -1
}
