import { assert } from '../base/assert.ts'
import type { PartAddress } from '../model/address.ts'
import { partPointById } from './conductorIndex.ts'
import { findId, lastAtMost } from './idLookup.ts'
import { localIndexOf, localPartAt } from './localParts.ts'
import { conductorEndCode, earthBarCode, electrodeCode, enclosureCode, remoteEarthCode } from './partKinds.ts'
import type { TablePattern } from './pattern.ts'
import { tableById, tableIdAt } from './rowIndex.ts'
import type { TableSpot } from './rowIndex.ts'
import type { SiteIndex } from './siteIndex.ts'

/** The number of a part; of `earth`, the node of remote earth; −1 where the drawing has no such part. O(log). */
export function partIndexOf(index: SiteIndex, address: PartAddress): number {
  switch (address.at) {
    case 'table': {
      const row = findId(index.rows.ids, address.row)
      const table = row < 0 ? null : tableById(index.rows, row, address.table)
      if (!table) return -1
      const local = localIndexOf(patternOfRun(index, table.run), address.part)
      return local < 0 ? -1 : firstPartOf(index, table) + local
    }
    case 'enclosure':
      return offset(index.enclosureStart, findId(index.enclosures, address.id))
    case 'earthBar':
      return offset(index.earthBarStart, findId(index.earthBars, address.id))
    case 'electrode':
      return offset(index.electrodeStart, findId(index.electrodes, address.id))
    case 'conductor': {
      const c = findId(index.conductors.ids, address.id)
      return c < 0 ? -1 : offset(index.conductorStart, partPointById(index.conductors, c, address.point))
    }
    case 'remoteEarth':
      return index.remoteEarth
  }
}

function offset(start: number, at: number): number {
  return at < 0 ? -1 : start + at
}

/** The address of a part or of remote earth; a number beyond them is a bug. O(log runs). */
export function partAddressAt(index: SiteIndex, part: number): PartAddress {
  assert(part >= 0 && part <= index.partCount, `there is no part ${part}`)
  const { drawing } = index
  if (part < index.enclosureStart) {
    const { run, place, local } = partInTable(index, part)
    return {
      at: 'table',
      row: drawing.rows[index.rows.runs.row[run]].id,
      table: tableIdAt(index.rows, { run, place }),
      part: localPartAt(patternOfRun(index, run), local),
    }
  }
  if (part < index.earthBarStart) {
    return { at: 'enclosure', id: drawing.enclosures[part - index.enclosureStart].id }
  }
  if (part < index.electrodeStart) {
    return { at: 'earthBar', id: drawing.earthBars[part - index.earthBarStart].id }
  }
  if (part < index.conductorStart) {
    return { at: 'electrode', id: drawing.electrodes[part - index.electrodeStart].id }
  }
  if (part < index.partCount) {
    const { conductor, pointId } = index.conductors
    const p = part - index.conductorStart
    return { at: 'conductor', id: drawing.conductors[conductor[p]].id, point: pointId[p] }
  }
  return { at: 'remoteEarth' }
}

/** Code of the part's kind: an index into `partKindNames`. O(log runs). */
export function partKindAt(index: SiteIndex, part: number): number {
  if (part < index.enclosureStart) {
    const { run, local } = partInTable(index, part)
    return patternOfRun(index, run).partKind[local]
  }
  if (part < index.earthBarStart) return enclosureCode
  if (part < index.electrodeStart) return earthBarCode
  if (part < index.conductorStart) return electrodeCode
  return part < index.partCount ? conductorEndCode : remoteEarthCode
}

/** Kinds of all parts and of remote earth, as `partKindAt`. O(parts). */
export function partKinds(index: SiteIndex): Uint8Array {
  const kinds = new Uint8Array(index.partCount + 1)
  const { runs } = index.rows
  for (let run = 0; run < runs.count.length; run++) {
    const { partKind, partCount } = patternOfRun(index, run)
    for (let t = 0; t < runs.count[run]; t++) kinds.set(partKind, runs.partStart[run] + t * partCount)
  }
  kinds.fill(enclosureCode, index.enclosureStart, index.earthBarStart)
  kinds.fill(earthBarCode, index.earthBarStart, index.electrodeStart)
  kinds.fill(electrodeCode, index.electrodeStart, index.conductorStart)
  kinds.fill(conductorEndCode, index.conductorStart, index.partCount)
  kinds[index.partCount] = remoteEarthCode
  return kinds
}

/** The run, the place of the table in it, and the number in its table of a part of a table. O(log runs). */
export function partInTable(index: SiteIndex, part: number): TableSpot & { readonly local: number } {
  const { partStart } = index.rows.runs
  const run = lastAtMost(partStart, part, 0, partStart.length)
  const inRun = part - partStart[run]
  const { partCount } = patternOfRun(index, run)
  return { run, place: Math.floor(inRun / partCount), local: inRun % partCount }
}

export function patternOfRun(index: SiteIndex, run: number): TablePattern {
  return index.patterns[index.rows.runs.type[run]]!
}

/** Number of the first part of a table. */
export function firstPartOf(index: SiteIndex, { run, place }: TableSpot): number {
  return index.rows.runs.partStart[run] + place * patternOfRun(index, run).partCount
}

/** Number of the first joint of a table. */
export function firstJointOf(index: SiteIndex, { run, place }: TableSpot): number {
  return index.rows.runs.jointStart[run] + place * patternOfRun(index, run).jointCount
}
