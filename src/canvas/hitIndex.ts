import { firstJointOf, firstPartOf } from '../layout/partIndex.ts'
import { ordinalOf, type TableSpot } from '../layout/rowIndex.ts'
import { typeOfRun, type MapGeometry } from './geometry.ts'
import { itemJointNear, itemPartNear, wireNear } from './itemHit.ts'
import type { Level } from './lod.ts'
import { isInRect, type RectM } from './mapTypes.ts'
import { jointPointM, partPointM } from './markPoints.ts'
import { isRunNear, placesIn } from './placesIn.ts'
import { boxDistance, localJointNear, localPartNear, type NearJoint } from './tableHit.ts'

/** What lies on an edge is hit in spite of rounding. */
const slackM = 1e-6

/** A table near a place, and the place in its own metres. */
interface NearTable {
  readonly spot: TableSpot
  readonly x: number
  readonly y: number
  readonly distanceM: number
}

/**
 * Finds what lies at a place of the plan. Runs are few and their tables evenly spaced: a look at each run's box, then
 * arithmetic. Nothing is built or kept, so a new drawing costs nothing.
 */
export class HitIndex {
  readonly #geometry: MapGeometry

  constructor(geometry: MapGeometry) {
    this.#geometry = geometry
  }

  /**
   * The part at a place, or the nearest within the tolerance: first what is drawn above. −1 where there is none. `level`
   * leaves out what is not drawn at a zoom. O(runs + items).
   */
  partAt(xM: number, yM: number, toleranceM: number, level: Level = 'joints'): number {
    const geometry = this.#geometry
    const withinM = toleranceM + slackM
    const item = itemPartNear(geometry, xM, yM, withinM)
    if (item >= 0) return item
    for (const { spot, x, y } of this.#tablesNear(xM, yM, withinM)) {
      const local = localPartNear(typeOfRun(geometry, spot.run), x, y, withinM, level)
      if (local >= 0) return firstPartOf(geometry.index, spot) + local
    }
    return -1
  }

  /** The table at a place, or the nearest within the tolerance; null where there is none. O(runs). */
  tableAt(xM: number, yM: number, toleranceM = 0): TableSpot | null {
    return this.#tablesNear(xM, yM, toleranceM + slackM)[0]?.spot ?? null
  }

  /**
   * The joint whose mark is nearest within the tolerance; where there is no mark, the wire that passes
   * there; −1 where there is neither. O(runs + joints of a table + items).
   */
  jointAt(xM: number, yM: number, toleranceM: number): number {
    const geometry = this.#geometry
    const withinM = toleranceM + slackM
    let nearest: NearJoint | null = itemJointNear(geometry, xM, yM, withinM)
    const offer = (joint: NearJoint | null) => {
      if (joint && (!nearest || joint.distanceM < nearest.distanceM)) nearest = joint
    }
    for (const { spot, x, y } of this.#tablesNear(xM, yM, withinM)) {
      const first = firstJointOf(geometry.index, spot)
      const isAbsent = (local: number) => geometry.absentJoints.has(first + local)
      const found = localJointNear(typeOfRun(geometry, spot.run), x, y, withinM, isAbsent)
      if (found) offer({ joint: first + found.joint, distanceM: found.distanceM })
    }
    offer(this.#jumperNear(xM, yM, withinM))
    nearest ??= wireNear(geometry, xM, yM, withinM)
    return nearest?.joint ?? -1
  }

  /** Parts marked inside a rectangle, in ascending order, at most `most` of them. O(parts of tables that touch it). */
  partsIn(rect: RectM, most: number): number[] {
    const geometry = this.#geometry
    const found: number[] = []
    const { index, runs } = geometry
    const add = (part: number) => {
      const at = partPointM(geometry, part)!
      if (isInRect(rect, at.x, at.y)) found.push(part)
    }
    for (let run = 0; run < runs.count && found.length < most; run++) {
      const { pattern } = typeOfRun(geometry, run)
      const places = placesIn(geometry, run, rect)
      for (let place = places.first; place <= places.last && found.length < most; place++) {
        const first = firstPartOf(index, { run, place })
        for (let local = 0; local < pattern.partCount && found.length < most; local++) add(first + local)
      }
    }
    for (let part = index.enclosureStart; part < index.partCount && found.length < most; part++) add(part)
    return found
  }

  /**
   * One part of each table that touches a rectangle, the one with a number in the table (its first part where it has not
   * so many), and all equipment inside it; ascending, at most `most`. O(tables that touch it + equipment).
   */
  landmarksIn(rect: RectM, local: number, most: number): number[] {
    const geometry = this.#geometry
    const { index, runs } = geometry
    const found: number[] = []
    const add = (part: number) => {
      const at = partPointM(geometry, part)!
      if (found.length < most && isInRect(rect, at.x, at.y)) found.push(part)
    }
    for (let run = 0; run < runs.count && found.length < most; run++) {
      const { pattern } = typeOfRun(geometry, run)
      const places = placesIn(geometry, run, rect)
      for (let place = places.first; place <= places.last; place++) {
        add(firstPartOf(index, { run, place }) + (local < pattern.longStart ? local : 0))
      }
    }
    for (let part = index.enclosureStart; part < index.partCount; part++) add(part)
    return found
  }

  #tablesNear(xM: number, yM: number, toleranceM: number): NearTable[] {
    const geometry = this.#geometry
    const { runs } = geometry
    const found: NearTable[] = []
    const around = rectAround(xM, yM, toleranceM)
    for (let run = 0; run < runs.count; run++) {
      const places = placesIn(geometry, run, around)
      if (places.first > places.last) continue
      const { minX, minY, maxX, maxY } = typeOfRun(geometry, run).box
      const dx = xM - runs.cornerX[run]
      const dy = yM - runs.cornerY[run]
      const along = dx * runs.alongX[run] + dy * runs.alongY[run]
      const y = dy * runs.alongX[run] - dx * runs.alongY[run]
      for (let place = places.first; place <= places.last; place++) {
        const x = along - place * runs.stepM[run]
        const fromMiddleX = x - (minX + maxX) / 2
        const fromMiddleY = y - (minY + maxY) / 2
        const distanceM = boxDistance(fromMiddleX, fromMiddleY, (maxX - minX) / 2, (maxY - minY) / 2)
        if (distanceM <= toleranceM) found.push({ spot: { run, place }, x, y, distanceM })
      }
    }
    return found.sort((a, b) => a.distanceM - b.distanceM)
  }

  /** Jumpers hang in the gaps, so that tables up to a gap away are looked at. */
  #jumperNear(xM: number, yM: number, toleranceM: number): NearJoint | null {
    const geometry = this.#geometry
    const { index, runs } = geometry
    let nearest: NearJoint | null = null
    const at = rectAround(xM, yM, 0)
    for (let run = 0; run < runs.count; run++) {
      const row = index.rows.runs.row[run]
      const { gapM, links } = index.drawing.rows[row]
      if (links.count === 0 || !isRunNear(geometry, run, at, toleranceM + gapM)) continue
      const places = placesIn(geometry, run, rectAround(xM, yM, toleranceM + gapM))
      if (places.first > places.last) continue
      const firstGap = Math.max(ordinalOf(index.rows, { run, place: places.first }) - 1, 0)
      const lastGap = Math.min(ordinalOf(index.rows, { run, place: places.last }), index.rows.tables[row] - 2)
      const start = index.rows.jumperStart[row]
      for (let joint = start + firstGap * links.count; joint < start + (lastGap + 1) * links.count; joint++) {
        const mark = jointPointM(geometry, joint)
        const distanceM = Math.hypot(xM - mark.x, yM - mark.y)
        if (distanceM > toleranceM || geometry.absentJoints.has(joint)) continue
        if (!nearest || distanceM < nearest.distanceM) nearest = { joint, distanceM }
      }
    }
    return nearest
  }
}

function rectAround(xM: number, yM: number, marginM: number): RectM {
  return { minX: xM - marginM, minY: yM - marginM, maxX: xM + marginM, maxY: yM + marginM }
}
