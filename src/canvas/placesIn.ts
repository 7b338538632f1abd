import { typeOfRun, type MapGeometry } from './geometry.ts'
import type { RectM } from './mapTypes.ts'

/** Whether the box around a run comes within a margin of a rectangle. */
export function isRunNear({ runs }: MapGeometry, run: number, rect: RectM, marginM = 0): boolean {
  const { boxes } = runs
  return (
    boxes[4 * run] <= rect.maxX + marginM &&
    boxes[4 * run + 1] <= rect.maxY + marginM &&
    boxes[4 * run + 2] >= rect.minX - marginM &&
    boxes[4 * run + 3] >= rect.minY - marginM
  )
}

const none = { first: 0, last: -1 } as const

/** Places in a run of the tables that may touch a rectangle: exact where the row runs along an axis. O(1). */
export function placesIn(
  geometry: MapGeometry,
  run: number,
  rect: RectM,
): { readonly first: number; readonly last: number } {
  const { runs, index } = geometry
  if (!isRunNear(geometry, run, rect)) return none
  const { box } = typeOfRun(geometry, run)
  const alongX = runs.alongX[run]
  const alongY = runs.alongY[run]
  const halfX = (rect.maxX - rect.minX) / 2
  const halfY = (rect.maxY - rect.minY) / 2
  const dx = (rect.minX + rect.maxX) / 2 - runs.cornerX[run]
  const dy = (rect.minY + rect.maxY) / 2 - runs.cornerY[run]
  const up = dy * alongX - dx * alongY
  const upReach = halfX * Math.abs(alongY) + halfY * Math.abs(alongX)
  if (up + upReach < box.minY || up - upReach > box.maxY) return none
  const along = dx * alongX + dy * alongY
  const alongReach = halfX * Math.abs(alongX) + halfY * Math.abs(alongY)
  const first = Math.ceil((along - alongReach - box.maxX) / runs.stepM[run])
  const last = Math.floor((along + alongReach - box.minX) / runs.stepM[run])
  return { first: Math.max(first, 0), last: Math.min(last, index.rows.runs.count[run] - 1) }
}
