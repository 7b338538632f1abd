import { currentWidthPx, type CurrentPieces } from './drawMarks.ts'
import type { View } from './mapTypes.ts'

/** Between two dashes, in CSS pixels, and their length. */
const apartPx = 15
const dashPx = 6
/** A dash of all the current covers so many CSS pixels in a second; of less in proportion to the root, but never crawling. */
const fastestPxPerS = 60
const slowestPxPerS = 16
/** The strongest pieces in view get dashes, no more of them than this: a frame has to stay short. */
export const mostDashes = 900

/** Dashes of one moment: middle, direction and thickness of each, in CSS pixels. */
export interface FlowDashes {
  readonly count: number
  /** x, y, cosine, sine, length, thickness of each. */
  readonly values: Float32Array
}

const buffer = 6 * mostDashes

/** Where each piece's dashes are at a time; only pieces in view. O(pieces), and nothing is made anew but the answer's head. */
export function flowDashes(
  { ends, perAmpere }: CurrentPieces,
  forwards: Uint8Array,
  view: View,
  seconds: number,
  leastShare: number,
  widestPx: number,
  values: Float32Array = new Float32Array(buffer),
): FlowDashes {
  let count = 0
  for (let i = perAmpere.length - 1; i >= 0 && count < mostDashes; i--) {
    if (perAmpere[i] < leastShare) break
    const isForward = forwards[i] === 1
    const [a, b] = isForward ? [4 * i, 4 * i + 2] : [4 * i + 2, 4 * i]
    const x0 = view.x + view.k * ends[a]
    const y0 = view.y - view.k * ends[a + 1]
    const x1 = view.x + view.k * ends[b]
    const y1 = view.y - view.k * ends[b + 1]
    if (Math.max(x0, x1) < 0 || Math.min(x0, x1) > view.widthPx) continue
    if (Math.max(y0, y1) < 0 || Math.min(y0, y1) > view.heightPx) continue
    const lengthPx = Math.hypot(x1 - x0, y1 - y0)
    if (lengthPx < dashPx) continue
    const [ux, uy] = [(x1 - x0) / lengthPx, (y1 - y0) / lengthPx]
    const speed = Math.max(fastestPxPerS * Math.sqrt(Math.min(perAmpere[i], 1)), slowestPxPerS)
    const thick = Math.max(0.45 * currentWidthPx(perAmpere[i], widestPx), 1.1)
    const phase = (seconds * speed) % apartPx
    for (let at = phase; at <= lengthPx - dashPx / 2 && count < mostDashes; at += apartPx) {
      if (at < dashPx / 2) continue
      const x = x0 + ux * at
      const y = y0 + uy * at
      if (x < -dashPx || y < -dashPx || x > view.widthPx + dashPx || y > view.heightPx + dashPx) continue
      values.set([x, y, ux, uy, dashPx, thick], 6 * count++)
    }
  }
  return { count, values }
}
