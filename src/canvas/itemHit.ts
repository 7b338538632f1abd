import { jointPointM } from './markPoints.ts'
import type { MapGeometry } from './geometry.ts'
import { earthBarHalfM, rodHalfM } from '../layout/itemOutline.ts'
import { conductorEndHalfM, plateForm, rodForm, wireSpan } from './itemGeometry.ts'
import { distanceToPathM } from './pathSet.ts'
import { boxDistance, type NearJoint } from './tableHit.ts'

/**
 * The enclosure, earth bar, electrode or conductor end nearest to a place, −1 where none is within the
 * tolerance. Of two that are equally near, the one that is drawn above: bars, enclosures, rods and plates,
 * ends of conductors, strips. O(drawn items).
 */
export function itemPartNear(geometry: MapGeometry, xM: number, yM: number, toleranceM: number): number {
  const { index, items } = geometry
  let nearestM = toleranceM
  let found = -1
  const offer = (part: number, distanceM: number) => {
    if (distanceM > nearestM || (distanceM === nearestM && found >= 0)) return
    nearestM = distanceM
    found = part
  }
  const { earthBars, enclosures, electrodes, electrodeForm, ends, strips } = items
  for (let i = 0; i < earthBars.length; i += 2) {
    const distanceM = boxDistance(xM - earthBars[i], yM - earthBars[i + 1], earthBarHalfM.x, earthBarHalfM.y)
    offer(index.earthBarStart + i / 2, distanceM)
  }
  for (let i = 0; i < enclosures.length; i += 6) {
    const dx = xM - enclosures[i]
    const dy = yM - enclosures[i + 1]
    const along = dx * enclosures[i + 2] + dy * enclosures[i + 3]
    const aside = dy * enclosures[i + 2] - dx * enclosures[i + 3]
    offer(index.enclosureStart + i / 6, boxDistance(along, aside, enclosures[i + 4], enclosures[i + 5]))
  }
  for (let e = 0; e < electrodeForm.length; e++) {
    const dx = xM - electrodes[3 * e]
    const dy = yM - electrodes[3 * e + 1]
    const half = electrodes[3 * e + 2]
    if (electrodeForm[e] === rodForm) {
      offer(index.electrodeStart + e, Math.max(Math.hypot(dx, dy) - rodHalfM, 0))
    } else if (electrodeForm[e] === plateForm) {
      offer(index.electrodeStart + e, boxDistance(dx, dy, half, half))
    }
  }
  for (let p = 0; p < ends.length; p += 2) {
    const distanceM = boxDistance(xM - ends[p], yM - ends[p + 1], conductorEndHalfM, conductorEndHalfM)
    offer(index.conductorStart + p / 2, distanceM)
  }
  if (found >= 0) return found
  for (let e = 0; e < strips.count; e++) {
    if (electrodeForm[e] === rodForm || electrodeForm[e] === plateForm) continue
    if (!isNearBox(strips.boxes, e, xM, yM, toleranceM)) continue
    offer(index.electrodeStart + e, distanceToPathM(strips, strips.start[e], strips.start[e + 1] - 1, xM, yM))
  }
  return found
}

function isNearBox(boxes: Float64Array, i: number, xM: number, yM: number, marginM: number): boolean {
  return (
    xM >= boxes[4 * i] - marginM &&
    yM >= boxes[4 * i + 1] - marginM &&
    xM <= boxes[4 * i + 2] + marginM &&
    yM <= boxes[4 * i + 3] + marginM
  )
}

/** The lug, extra joint or joint added as built whose mark is nearest. O(drawn items). */
export function itemJointNear(
  geometry: MapGeometry,
  xM: number,
  yM: number,
  toleranceM: number,
): NearJoint | null {
  const { index, items } = geometry
  const { conductors, drawing } = index
  let found: NearJoint | null = null
  const offer = (joint: number, distanceM: number) => {
    if (distanceM > (found?.distanceM ?? toleranceM) || geometry.absentJoints.has(joint)) return
    if (!found || distanceM < found.distanceM) found = { joint, distanceM }
  }
  for (let p = 0; p < conductors.partCount; p++) {
    const { landing } = drawing.conductors[conductors.conductor[p]].points[conductors.place[p]]
    if (!landing) continue
    const distanceM = Math.hypot(xM - items.lugs[2 * p], yM - items.lugs[2 * p + 1])
    offer(index.conductorJointStart + conductors.jointStart[p], distanceM)
  }
  for (let joint = index.extraJointStart; joint < index.electrodeJointStart; joint++) {
    const at = jointPointM(geometry, joint)
    offer(joint, Math.hypot(xM - at.x, yM - at.y))
  }
  return found
}

/** The wire nearest to a place. O(points of the conductors near it). */
export function wireNear(
  geometry: MapGeometry,
  xM: number,
  yM: number,
  toleranceM: number,
): NearJoint | null {
  const { index, items } = geometry
  const { conductors } = index
  let found: NearJoint | null = null
  for (let c = 0; c < items.conductors.count; c++) {
    if (!isNearBox(items.conductors.boxes, c, xM, yM, toleranceM)) continue
    for (let p = conductors.pointStart[c]; p < conductors.pointStart[c + 1]; p++) {
      const { landing } = index.drawing.conductors[c].points[conductors.place[p]]
      const first = conductors.jointStart[p] + (landing ? 1 : 0)
      if (first === conductors.jointStart[p + 1]) continue
      const [from, to] = wireSpan(index, items.conductors, p)
      const distanceM = distanceToPathM(items.conductors, from, to, xM, yM)
      const joint = index.conductorJointStart + first
      if (distanceM > (found?.distanceM ?? toleranceM) || geometry.absentJoints.has(joint)) continue
      if (!found || distanceM < found.distanceM) found = { joint, distanceM }
    }
  }
  return found
}
