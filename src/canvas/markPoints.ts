import { assert } from '../base/assert.ts'
import { lastAtMost } from '../layout/idLookup.ts'
import { jumperEnds } from '../layout/jointIndex.ts'
import { partIndexOf, partInTable } from '../layout/partIndex.ts'
import { partPositionM } from '../layout/positions.ts'
import type { TableSpot } from '../layout/rowIndex.ts'
import { parsePartAddress } from '../model/address.ts'
import type { PointM } from '../model/schema/primitives.ts'
import { tablePointM, typeOfRun, type MapGeometry } from './geometry.ts'
import { wireSpan } from './itemGeometry.ts'
import type { PathSet } from './pathSet.ts'

/**
 * Where a part is marked, in metres: its position in plan; an end of a conductor that lands on something a
 * step up its wire, so that both can be told apart. Null for remote earth. O(log runs).
 */
export function partPointM(geometry: MapGeometry, part: number): PointM | null {
  const { index, items } = geometry
  if (part < index.conductorStart || part === index.remoteEarth) return partPositionM(index, part)
  const p = part - index.conductorStart
  return { x: items.ends[2 * p], y: items.ends[2 * p + 1] }
}

/** Where a joint is marked, in metres. O(log), of a wire O(its points). */
export function jointPointM(geometry: MapGeometry, joint: number): PointM {
  return pointAndWay(geometry, joint).at
}

/**
 * The way of the current through a joint, in metres from its first end to its second: from the mark of one
 * part over the joint's to the other's; a conductor's wire along its drawn points; into soil one point.
 */
export function jointWayM(geometry: MapGeometry, joint: number): readonly PointM[] {
  return pointAndWay(geometry, joint).way()
}

interface Marked {
  readonly at: PointM
  readonly way: () => readonly PointM[]
}

function pointAndWay(geometry: MapGeometry, joint: number): Marked {
  const { index } = geometry
  assert(joint >= 0 && joint < index.jointCount, `there is no joint ${joint}`)
  if (joint < index.conductorJointStart) return rowJoint(geometry, joint)
  if (joint < index.extraJointStart) return conductorJoint(geometry, joint - index.conductorJointStart)
  if (joint < index.electrodeJointStart) return addedJoint(geometry, joint)
  const at = partPointM(geometry, index.electrodeStart + joint - index.electrodeJointStart)!
  return { at, way: () => [at] }
}

function rowJoint(geometry: MapGeometry, joint: number): Marked {
  const { index } = geometry
  const { runs, jumperStart } = index.rows
  const run = lastAtMost(runs.jointStart, joint, 0, runs.jointStart.length)
  if (joint >= jumperStart[runs.row[run]]) {
    const row = runs.row[run]
    const { count } = index.drawing.rows[row].links
    const inGaps = joint - jumperStart[row]
    const { from, to } = jumperEnds(index, row, Math.floor(inGaps / count), (inGaps % count) + 1)
    return between(partPositionM(index, from)!, partPositionM(index, to)!)
  }
  const { pattern, jointX, jointY } = typeOfRun(geometry, run)
  const inRun = joint - runs.jointStart[run]
  const local = inRun % pattern.jointCount
  const spot: TableSpot = { run, place: Math.floor(inRun / pattern.jointCount) }
  const at = tablePointM(geometry, spot, jointX[local], jointY[local])
  const placeOf = (part: number) => tablePointM(geometry, spot, pattern.xM[part], pattern.yM[part])
  const end = pattern.to[local]
  return { at, way: () => [placeOf(pattern.from[local]), at, ...(end < 0 ? [] : [placeOf(end)])] }
}

function between(from: PointM, to: PointM): Marked {
  return { at: { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 }, way: () => [from, to] }
}

function conductorJoint(geometry: MapGeometry, inConductors: number): Marked {
  const { index, items } = geometry
  const { conductors, drawing } = index
  const p = lastAtMost(conductors.jointStart, inConductors, 0, conductors.partCount)
  const { atM, landing } = drawing.conductors[conductors.conductor[p]].points[conductors.place[p]]
  if (landing && inConductors === conductors.jointStart[p]) {
    const end = partPointM(geometry, index.conductorStart + p)!
    const landed = positionOf(geometry, landing.part) ?? atM
    return { at: { x: items.lugs[2 * p], y: items.lugs[2 * p + 1] }, way: () => [end, atM, landed] }
  }
  const [first, last] = wireSpan(index, items.conductors, p)
  return {
    at: middleOf(items.conductors, first, last),
    way: () =>
      Array.from({ length: last - first + 1 }, (_, i) => ({
        x: items.conductors.x[first + i],
        y: items.conductors.y[first + i],
      })),
  }
}

function middleOf({ x, y }: PathSet, first: number, last: number): PointM {
  let leftM = 0
  for (let i = first; i < last; i++) leftM += Math.hypot(x[i + 1] - x[i], y[i + 1] - y[i])
  leftM /= 2
  for (let i = first; i < last; i++) {
    const legM = Math.hypot(x[i + 1] - x[i], y[i + 1] - y[i])
    if (legM > 0 && leftM <= legM) {
      const share = leftM / legM
      return { x: x[i] + share * (x[i + 1] - x[i]), y: y[i] + share * (y[i + 1] - y[i]) }
    }
    leftM -= legM
  }
  return { x: x[last], y: y[last] }
}

function addedJoint(geometry: MapGeometry, joint: number): Marked {
  const { from, to } = addedEnds(geometry, joint)
  const one = positionOf(geometry, from)
  const other = positionOf(geometry, to)
  if (one && other) return between(one, other)
  const at = one ?? other ?? { x: 0, y: 0 }
  return { at, way: () => [at] }
}

function addedEnds({ index }: MapGeometry, joint: number): { readonly from: string; readonly to: string } {
  const { drawing } = index
  if (joint < index.addedJointStart) return drawing.extraJoints[joint - index.extraJointStart]
  const { found } = drawing.asBuilt[index.addedJoints[joint - index.addedJointStart]]
  assert(found.form === 'jointAdded', `joint ${joint} was not added as built`)
  return found
}

function positionOf(geometry: MapGeometry, text: string): PointM | null {
  const address = parsePartAddress(text)
  const part = address ? partIndexOf(geometry.index, address) : -1
  return part < 0 ? null : partPointM(geometry, part)
}

/** The table that a part belongs to; null for parts of no table. O(log runs). */
export function tableOfPart({ index }: MapGeometry, part: number): TableSpot | null {
  if (part < 0 || part >= index.enclosureStart) return null
  const { run, place } = partInTable(index, part)
  return { run, place }
}
