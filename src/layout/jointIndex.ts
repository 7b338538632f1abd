import { assert } from '../base/assert.ts'
import type { JointAddress } from '../model/address.ts'
import { partPointById } from './conductorIndex.ts'
import { findId, lastAtMost, lowerBound } from './idLookup.ts'
import { localIndexOf, localJointOf, localPartAt } from './localParts.ts'
import { firstJointOf, firstPartOf, partInTable, partIndexOf, patternOfRun } from './partIndex.ts'
import { ordinalOf, tableById, tableByOrdinal, tableIdAt } from './rowIndex.ts'
import type { SiteIndex } from './siteIndex.ts'

/**
 * The number of a joint, −1 where the drawing has no such joint. The ends of a table joint may stand in
 * either order, the tables of a jumper in row order only. O(log).
 */
export function jointIndexOf(index: SiteIndex, address: JointAddress): number {
  switch (address.at) {
    case 'table': {
      const row = findId(index.rows.ids, address.row)
      const table = row < 0 ? null : tableById(index.rows, row, address.table)
      if (!table) return -1
      const pattern = patternOfRun(index, table.run)
      const one = localIndexOf(pattern, address.from)
      const other = localIndexOf(pattern, address.to)
      if (one < 0 || other < 0) return -1
      const local = localJointOf(pattern, one, other, address.parallel)
      return local < 0 ? -1 : firstJointOf(index, table) + local
    }
    case 'row':
      return jumperIndexOf(index, address)
    case 'lug':
    case 'wire':
      return conductorJointOf(index, address)
    case 'extra':
      return offset(index.extraJointStart, findId(index.extraJoints, address.id))
    case 'asBuilt': {
      const at = findId(index.asBuilt, address.id)
      const added = lowerBound(index.addedJoints, at, 0, index.addedJoints.length)
      return at >= 0 && index.addedJoints[added] === at ? index.addedJointStart + added : -1
    }
    case 'earthPath': {
      const part = partIndexOf(index, address.part)
      if (part < 0 || part >= index.conductorStart) return -1
      if (part >= index.electrodeStart) return index.electrodeJointStart + part - index.electrodeStart
      if (part >= index.enclosureStart) return -1
      const { run, place, local } = partInTable(index, part)
      const joint = localJointOf(patternOfRun(index, run), local, -1, 1)
      return joint < 0 ? -1 : firstJointOf(index, { run, place }) + joint
    }
  }
}

function offset(start: number, at: number): number {
  return at < 0 ? -1 : start + at
}

function jumperIndexOf(index: SiteIndex, address: Extract<JointAddress, { at: 'row' }>): number {
  const { rows, drawing } = index
  const row = findId(rows.ids, address.row)
  if (row < 0) return -1
  const before = tableById(rows, row, address.tableBefore)
  const after = tableById(rows, row, address.tableAfter)
  const { count } = drawing.rows[row].links
  if (!before || !after || address.jumper > count) return -1
  const gap = ordinalOf(rows, before)
  return ordinalOf(rows, after) === gap + 1 ? rows.jumperStart[row] + gap * count + address.jumper - 1 : -1
}

function conductorJointOf(index: SiteIndex, address: Extract<JointAddress, { at: 'lug' | 'wire' }>): number {
  const { conductors, conductorJointStart } = index
  const c = findId(conductors.ids, address.conductor)
  const p = c < 0 ? -1 : partPointById(conductors, c, address.point)
  if (p < 0) return -1
  const lugs = lugsAt(index, p)
  const first = conductors.jointStart[p]
  if (address.at === 'lug') return lugs === 1 ? conductorJointStart + first : -1
  return first + lugs < conductors.jointStart[p + 1] ? conductorJointStart + first + lugs : -1
}

/** 1 where part point p of the conductors lands on a part, else 0. */
function lugsAt({ drawing, conductors }: SiteIndex, p: number): number {
  const point = drawing.conductors[conductors.conductor[p]].points[conductors.place[p]]
  return point.landing === null ? 0 : 1
}

/** The address of a joint, ends in ascending order; a number beyond the joints is a bug. O(log). */
export function jointAddressAt(index: SiteIndex, joint: number): JointAddress {
  assert(joint >= 0 && joint < index.jointCount, `there is no joint ${joint}`)
  const { drawing } = index
  if (joint < index.conductorJointStart) return rowJointAt(index, joint)
  if (joint < index.extraJointStart) {
    const { conductors } = index
    const inConductors = joint - index.conductorJointStart
    const p = lastAtMost(conductors.jointStart, inConductors, 0, conductors.partCount)
    const isLug = inConductors === conductors.jointStart[p] && lugsAt(index, p) === 1
    return {
      at: isLug ? 'lug' : 'wire',
      conductor: drawing.conductors[conductors.conductor[p]].id,
      point: conductors.pointId[p],
    }
  }
  if (joint < index.addedJointStart) {
    return { at: 'extra', id: drawing.extraJoints[joint - index.extraJointStart].id }
  }
  if (joint < index.electrodeJointStart) {
    return { at: 'asBuilt', id: drawing.asBuilt[index.addedJoints[joint - index.addedJointStart]].id }
  }
  const { id } = drawing.electrodes[joint - index.electrodeJointStart]
  return { at: 'earthPath', part: { at: 'electrode', id } }
}

function rowJointAt(index: SiteIndex, joint: number): JointAddress {
  const { rows, drawing } = index
  const run = lastAtMost(rows.runs.jointStart, joint, 0, rows.runs.jointStart.length)
  const r = rows.runs.row[run]
  const row = drawing.rows[r].id
  if (joint >= rows.jumperStart[r]) {
    const inGaps = joint - rows.jumperStart[r]
    const { count } = drawing.rows[r].links
    const gap = Math.floor(inGaps / count)
    return {
      at: 'row',
      row,
      tableBefore: tableIdAt(rows, tableByOrdinal(rows, r, gap)),
      tableAfter: tableIdAt(rows, tableByOrdinal(rows, r, gap + 1)),
      jumper: (inGaps % count) + 1,
    }
  }
  const pattern = patternOfRun(index, run)
  const inRun = joint - rows.runs.jointStart[run]
  const local = inRun % pattern.jointCount
  const table = tableIdAt(rows, { run, place: Math.floor(inRun / pattern.jointCount) })
  const from = localPartAt(pattern, pattern.from[local])
  if (pattern.to[local] < 0) return { at: 'earthPath', part: { at: 'table', row, table, part: from } }
  const to = localPartAt(pattern, pattern.to[local])
  return { at: 'table', row, table, from, to, parallel: pattern.parallel[local] }
}

/**
 * The parts that jumper `jumper` (1 or 2) joins in the gap after table number `ordinal` of row number `row`: the
 * last station of one table and the first of the next, on the first or on the last long member.
 */
export function jumperEnds(
  index: SiteIndex,
  row: number,
  ordinal: number,
  jumper: number,
): { readonly from: number; readonly to: number } {
  const before = tableByOrdinal(index.rows, row, ordinal)
  const after = tableByOrdinal(index.rows, row, ordinal + 1)
  const one = patternOfRun(index, before.run)
  const other = patternOfRun(index, after.run)
  const memberBefore = jumper === 1 ? 0 : one.members - 1
  const memberAfter = jumper === 1 ? 0 : other.members - 1
  return {
    from: firstPartOf(index, before) + one.longStart + memberBefore * (one.across + 1) + one.across,
    to: firstPartOf(index, after) + other.longStart + memberAfter * (other.across + 1),
  }
}
