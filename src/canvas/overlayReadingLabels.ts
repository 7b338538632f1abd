import type { Picked } from '../state/picked.ts'
import type { ReadingLook } from '../state/readingLook.ts'
import { pointOn } from './overlayCurves.ts'
import { labelHeightPx, type LabelText } from './overlayDraw.ts'
import type { SeenReading } from './overlayEdges.ts'
import type { LabelWish } from './overlayLabels.ts'
import type { Palette } from './palette.ts'

/** Who gets a label first where not all have room. */
const urgency: Readonly<Record<ReadingLook, number>> = {
  investigate: 0,
  overRange: 1,
  noMetalPath: 1,
  poorContact: 2,
  tooLow: 2,
  waiting: 3,
  within: 4,
  setAside: 5,
}

/** Shares of the seen curve at which a label may stand; the middle belongs to the look's mark. */
const places = [0.62, 0.38, 0.74, 0.26, 0.84, 0.16]
/** A shorter reading has no room for a label, unless it is chosen. */
const shortestPx = 64

/** What the readings' labels ask for, the most urgent first. */
export function labelWishes(
  seen: readonly SeenReading[],
  palette: Palette,
  hovered: Picked | null,
  widthOf: (text: string) => number,
): readonly LabelWish<LabelText & { readonly entry: string }>[] {
  const isHovered = (entry: string) => hovered?.kind === 'reading' && hovered.entry === entry
  const rankOf = ({ mark }: SeenReading) =>
    mark.isPicked ? -2 : isHovered(mark.entry) ? -1 : urgency[mark.look]
  return seen
    .filter(({ mark, whole }) => mark.isPicked || isHovered(mark.entry) || spanPx(whole) >= shortestPx)
    .map((reading) => ({ reading, rank: rankOf(reading) }))
    .sort((a, b) => a.rank - b.rank)
    .map(({ reading: { mark, curve } }) => ({
      of: {
        entry: mark.entry,
        text: mark.label,
        ink: palette.readings[mark.look],
        isStrong: mark.isPicked,
      },
      places: places.map((t) => pointOn(curve, t)),
      widthPx: widthOf(mark.label),
      heightPx: labelHeightPx,
    }))
}

function spanPx({ x0, y0, x1, y1 }: SeenReading['whole']): number {
  return Math.hypot(x1 - x0, y1 - y0)
}
