import type { Picked } from '../state/picked.ts'
import type { ReadingLook } from '../state/readingLook.ts'
import type { PointPx } from './mapTypes.ts'
import { pointOn, type Box, type Curve } from './overlayCurves.ts'
import { labelHeightPx, type LabelText } from './overlayDraw.ts'
import { urgency, type SeenReading } from './overlayEdges.ts'
import { boxAround, type LabelWish } from './overlayLabels.ts'
import type { Palette } from './palette.ts'
import { lookStyles } from './readingGlyph.ts'

/** Shares of the seen curve at which a label may stand; the middle belongs to the look's mark. */
const places = [0.62, 0.38, 0.74, 0.26, 0.84, 0.16]
/** A shorter reading has no room for a label, unless it is chosen; one in line with the others asks for more. */
const shortestPx = 64
const shortestInLinePx = 100
const middlePx = 17
const besidePx = 22

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
    .filter(
      ({ mark, whole }) => mark.isPicked || isHovered(mark.entry) || spanPx(whole) >= leastPx(mark.look),
    )
    .map((reading) => ({ reading, rank: rankOf(reading) }))
    .sort((a, b) => a.rank - b.rank || spanPx(b.reading.whole) - spanPx(a.reading.whole))
    .map(({ reading: { mark, curve }, rank }) => ({
      of: {
        entry: mark.entry,
        text: mark.label,
        ink: palette.readings[mark.look],
        weight: mark.isPicked ? 'full' : urgency[mark.look] < urgency.within ? 'strong' : 'plain',
      },
      places: placesOn(curve, rank < urgency.within),
      widthPx: widthOf(mark.label),
      heightPx: labelHeightPx,
    }))
}

/** On the curve; what must be read may also stand right beside it, never so far that it seems to be another's. */
function placesOn(curve: Curve, isUrgent: boolean): readonly PointPx[] {
  const on = places.map((t) => pointOn(curve, t))
  if (!isUrgent) return on
  const beside = [-besidePx, besidePx]
  return [...on, ...beside.flatMap((dy) => on.map(({ x, y }) => ({ x, y: y + dy })))]
}

function leastPx(look: ReadingLook): number {
  return urgency[look] < urgency.within ? shortestPx : shortestInLinePx
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
