import type { Picked } from '../state/picked.ts'
import type { PointPx } from './mapTypes.ts'
import { pointOn, type Box, type Curve } from './overlayCurves.ts'
import { labelHeightPx, type LabelText } from './overlayDraw.ts'
import { urgency, type SeenReading } from './overlayEdges.ts'
import { boxAround, type LabelWish } from './overlayLabels.ts'
import type { Palette } from './palette.ts'
import { lookStyles } from './readingGlyph.ts'

/** Shares of the seen curve at which a label may stand; the middle belongs to the look's mark. */
const places = [0.62, 0.38, 0.74, 0.26, 0.84, 0.16]
/** Where a label must be, also closer together, and right beyond the ends. */
const morePlaces = [0.68, 0.32, 0.56, 0.44, 0.8, 0.2, 0.9, 0.1, 0.5]
/** A shorter reading in line with the others has no room for a label. */
const shortestInLinePx = 100
const middlePx = 17
/** Away from the curve a thin line leads from the label to its place on it. */
const besidePx = [22, 34, 48, 66]
const beyondPx = 9

/** What the readings' labels ask for, the most urgent first. */
export function labelWishes(
  seen: readonly SeenReading[],
  palette: Palette,
  hovered: Picked | null,
  widthOf: (text: string) => number,
): readonly LabelWish<LabelText & { readonly entry: string }>[] {
  const isHovered = (entry: string) => hovered?.kind === 'reading' && hovered.entry === entry
  const rankOf = ({ mark, isNewest }: SeenReading) => {
    if (mark.isPicked) return -3
    if (isHovered(mark.entry)) return -2
    return isNewest ? -1 : urgency[mark.look]
  }
  return seen
    .map((reading) => ({ reading, rank: rankOf(reading) }))
    .filter(({ reading, rank }) => rank < urgency.waiting || spanPx(reading.whole) >= shortestInLinePx)
    .sort((a, b) => a.rank - b.rank || spanPx(b.reading.whole) - spanPx(a.reading.whole))
    .map(({ reading: { mark, curve }, rank }) => {
      const isUrgent = rank < urgency.waiting
      const widthPx = widthOf(mark.label)
      return {
        of: {
          entry: mark.entry,
          text: mark.label,
          ink: palette.readings[mark.look],
          weight: mark.isPicked ? 'full' : isUrgent ? 'strong' : 'plain',
          curve,
        },
        places: placesOn(curve, isUrgent, widthPx),
        widthPx,
        heightPx: labelHeightPx,
      }
    })
}

/**
 * On the curve. What must be read may also stand right beyond an end, else beside the curve, where it is led back to it:
 * never so that it seems to be another's.
 */
function placesOn(curve: Curve, isUrgent: boolean, widthPx: number): readonly PointPx[] {
  const on = places.map((t) => pointOn(curve, t))
  if (!isUrgent) return on
  const { x0, y0, x1, y1 } = curve
  const outPx = Math.sign(x1 - x0 || 1) * (widthPx / 2 + beyondPx)
  const beyond = [
    { x: x1 + outPx, y: y1 },
    { x: x0 - outPx, y: y0 },
  ]
  const more = morePlaces.map((t) => pointOn(curve, t))
  const beside = besidePx.flatMap((by) => [-by, by].flatMap((dy) => on.map(({ x, y }) => ({ x, y: y + dy }))))
  return [...on, ...more, ...beyond, ...beside]
}

/** The room of the mark in the middle of a reading, which no label may cover; none where there is no mark. */
export function middleBox({ mark, curve, middleAt }: SeenReading): readonly Box[] {
  const { middle } = lookStyles[mark.look]
  if (middleAt === null || middle === 'none') return []
  return [boxAround(pointOn(curve, middleAt), middlePx, middlePx)]
}

function spanPx({ x0, y0, x1, y1 }: SeenReading['whole']): number {
  return Math.hypot(x1 - x0, y1 - y0)
}
