import type { MapGeometry } from './geometry.ts'
import { smallest } from './lod.ts'
import { toScreen, type PointPx, type View } from './mapTypes.ts'
import type { Box } from './overlayCurves.ts'
import { boxAround, type LabelWish } from './overlayLabels.ts'
import { nameHeightPx, type NameRoom, type NameText } from './overlayNames.ts'

/** Equipment in view of which more would be a crowd of names. */
const mostItems = 80
/** Seen from further away equipment is a dot, and its name would say more than the map shows. */
const leastPxPerM = 5
const besidePx = 5
const symbolPx = smallest.symbolPx + 6
const symbolHalfM = 0.4

interface SeenItem {
  readonly text: string
  readonly box: Box
}

/** The symbols of enclosures, bars, rods and plates in view, with the labels they were given. O(equipment). */
export function seenItems({ index }: MapGeometry, view: View): readonly SeenItem[] {
  const { enclosures, earthBars, electrodes } = index.drawing
  const seen: SeenItem[] = []
  const add = (label: string, at: PointPx, halfM: number) => {
    const sidePx = Math.max(2 * halfM * view.k, symbolPx)
    const box = boxAround(at, sidePx, sidePx)
    const isSeen = box.right > 0 && box.bottom > 0 && box.left < view.widthPx && box.top < view.heightPx
    if (isSeen && seen.length <= mostItems) seen.push({ text: label.trim(), box })
  }
  for (const { label, atM, widthM, depthM } of enclosures) {
    add(label, toScreen(view, atM), Math.max(widthM, depthM) / 2)
  }
  for (const { label, atM } of earthBars) add(label, toScreen(view, atM), symbolHalfM)
  for (const electrode of electrodes) {
    if (electrode.form !== 'strip') add(electrode.label, toScreen(view, electrode.atM), symbolHalfM)
  }
  return seen
}

/** Their names beside them, where they have one; none from far, and none where they would be a crowd. */
export function itemWishes(
  items: readonly SeenItem[],
  { view, widthOf }: NameRoom,
): readonly LabelWish<NameText>[] {
  if (view.k < leastPxPerM || items.length > mostItems) return []
  return items
    .filter(({ text }) => text !== '')
    .map(({ text, box }) => {
      const widthPx = widthOf(text)
      const [x, y] = [(box.left + box.right) / 2, (box.top + box.bottom) / 2]
      return {
        of: { text, weight: 'table', isTurned: false } as const,
        places: [
          { x: box.left - besidePx - widthPx / 2, y },
          { x: box.right + besidePx + widthPx / 2, y },
          { x, y: box.top - besidePx - nameHeightPx / 2 },
          { x, y: box.bottom + besidePx + nameHeightPx / 2 },
        ],
        widthPx,
        heightPx: nameHeightPx,
      }
    })
}
