import type { Conductor } from '../model/schema/equipment.ts'
import { idLookup, lowerBound } from './idLookup.ts'
import type { IdLookup } from './idLookup.ts'

/**
 * The points of conductors that are parts: the first, the last and every landing. Conductor c has the part
 * points pointStart[c] … pointStart[c + 1] − 1. Joints of part point p: its lug if it lands, then the wire to
 * the next part point (of a closed conductor also from the last to the first); they are
 * jointStart[p] … jointStart[p + 1] − 1, counted from 0 for the first conductor.
 */
export interface ConductorIndex {
  readonly ids: IdLookup
  readonly partCount: number
  readonly jointCount: number
  readonly pointStart: Int32Array
  readonly conductor: Int32Array
  /** Place of the part point among all points of its conductor. */
  readonly place: Int32Array
  readonly pointId: Int32Array
  readonly jointStart: Int32Array
  /** Part points of each conductor by ascending point id. */
  readonly byId: Int32Array
  readonly byIdSorted: Int32Array
}

/** O(points log points). */
export function indexConductors(conductors: readonly Conductor[]): ConductorIndex {
  const pointStart = new Int32Array(conductors.length + 1)
  conductors.forEach(({ points }, c) => {
    let count = 0
    for (let i = 0; i < points.length; i++) if (isPart(points, i)) count++
    pointStart[c + 1] = pointStart[c] + count
  })
  const partCount = pointStart[conductors.length]
  const conductor = new Int32Array(partCount)
  const place = new Int32Array(partCount)
  const pointId = new Int32Array(partCount)
  const jointStart = new Int32Array(partCount + 1)
  const byId = Int32Array.from({ length: partCount }, (_, p) => p)
  let p = 0
  conductors.forEach(({ points, closed }, c) => {
    for (let i = 0; i < points.length; i++) {
      if (!isPart(points, i)) continue
      conductor[p] = c
      place[p] = i
      pointId[p] = points[i].id
      const lugs = points[i].landing === null ? 0 : 1
      const wires = closed || i < points.length - 1 ? 1 : 0
      jointStart[p + 1] = jointStart[p] + lugs + wires
      p++
    }
    byId.subarray(pointStart[c], p).sort((a, b) => pointId[a] - pointId[b])
  })
  return {
    ids: idLookup(Int32Array.from(conductors, ({ id }) => id)),
    partCount,
    jointCount: jointStart[partCount],
    pointStart,
    conductor,
    place,
    pointId,
    jointStart,
    byId,
    byIdSorted: byId.map((at) => pointId[at]),
  }
}

function isPart(points: Conductor['points'], i: number): boolean {
  return i === 0 || i === points.length - 1 || points[i].landing !== null
}

/** The part point with this id on conductor number `c`, −1 where there is none. O(log points). */
export function partPointById(index: ConductorIndex, c: number, pointId: number): number {
  const { pointStart, byId, byIdSorted } = index
  const at = lowerBound(byIdSorted, pointId, pointStart[c], pointStart[c + 1])
  return at < pointStart[c + 1] && byIdSorted[at] === pointId ? byId[at] : -1
}

/** The part point at the other end of the wire that begins at part point p. */
export function wireEnd(index: ConductorIndex, p: number): number {
  const c = index.conductor[p]
  return p + 1 < index.pointStart[c + 1] ? p + 1 : index.pointStart[c]
}
