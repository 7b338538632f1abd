import type { Inset } from './camera.ts'
import type { View } from './mapTypes.ts'
import type { Box } from './overlayCurves.ts'
import { isSteep, nameHeightPx } from './overlayNames.ts'
import type { RowNames } from './placeNames.ts'

/** Height of the line at the top that tells of readings drawn together, with what is free around it. */
export const noteHeightPx = 30
/** Buttons stand so far beyond the side that is told to be covered. */
const besideInsetPx = 30
const edgePx = 4
const leastMarginPx = 28
/** The scale bar and the north mark, with the way to the edge. */
const scaleHeightPx = 44
/** A wide letter at the size of names. */
const letterPx = 7.2

/** Where names and labels may stand. */
export function labelRoom({ widthPx, heightPx }: View, inset: Inset, hasNote: boolean): Box {
  return {
    left: inset.left + (inset.left > 0 ? besideInsetPx : edgePx),
    top: inset.top + edgePx + (hasNote ? noteHeightPx : 0),
    right: widthPx - inset.right - edgePx,
    bottom: heightPx - inset.bottom - edgePx,
  }
}

/** What stays free around the whole site: names of rows at its sides, the note above, scale bar and north mark below. */
export function fitMargins({ rows }: RowNames): Inset {
  const longest = Math.max(0, ...rows.map(({ text }) => text.length))
  const isUpright =
    rows.length > 0 && isSteep({ dx: rows[0].toM.x - rows[0].fromM.x, dy: rows[0].toM.y - rows[0].fromM.y })
  const side = isUpright ? leastMarginPx : Math.max(leastMarginPx, Math.min(longest * letterPx, 96) + 8)
  const ends = isUpright ? nameHeightPx + 6 : 0
  return { left: side, right: side, top: noteHeightPx + 6 + ends, bottom: scaleHeightPx + ends }
}
