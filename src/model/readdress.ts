import type { JointAddress, PartAddress } from './address.ts'
import { parseJointAddress, parsePartAddress, writeJointAddress, writePartAddress } from './address.ts'
import type { DrawnItem, DrawnSort } from './drawnItem.ts'

/** What things that are addressed are called elsewhere; null for one that is not there. */
export interface Renaming {
  readonly idOf: (sort: DrawnSort, id: number) => number | null
  readonly tableOf: (row: number, table: number) => number | null
  readonly pointOf: (conductor: number, point: number) => number | null
}

/** The drawn thing that a part belongs to; null for remote earth. */
export function ownerOfPart(address: PartAddress): DrawnItem | null {
  switch (address.at) {
    case 'table':
      return { sort: 'row', id: address.row }
    case 'remoteEarth':
      return null
    default:
      return { sort: address.at, id: address.id }
  }
}

/** The drawn thing that a joint belongs to; null for one with an address of its own. */
export function ownerOfJoint(address: JointAddress): DrawnItem | null {
  switch (address.at) {
    case 'table':
    case 'row':
      return { sort: 'row', id: address.row }
    case 'lug':
    case 'wire':
      return { sort: 'conductor', id: address.conductor }
    case 'earthPath':
      return ownerOfPart(address.part)
    default:
      return null
  }
}

function renamedPart(address: PartAddress, { idOf, tableOf, pointOf }: Renaming): PartAddress | null {
  switch (address.at) {
    case 'table': {
      const row = idOf('row', address.row)
      const table = tableOf(address.row, address.table)
      return row === null || table === null ? null : { ...address, row, table }
    }
    case 'conductor': {
      const id = idOf('conductor', address.id)
      const point = pointOf(address.id, address.point)
      return id === null || point === null ? null : { ...address, id, point }
    }
    case 'remoteEarth':
      return address
    default: {
      const id = idOf(address.at, address.id)
      return id === null ? null : { ...address, id }
    }
  }
}

function renamedJoint(address: JointAddress, naming: Renaming): JointAddress | null {
  const { idOf, tableOf, pointOf } = naming
  switch (address.at) {
    case 'table': {
      const row = idOf('row', address.row)
      const table = tableOf(address.row, address.table)
      return row === null || table === null ? null : { ...address, row, table }
    }
    case 'row': {
      const row = idOf('row', address.row)
      const tableBefore = tableOf(address.row, address.tableBefore)
      const tableAfter = tableOf(address.row, address.tableAfter)
      if (row === null || tableBefore === null || tableAfter === null) return null
      return { ...address, row, tableBefore, tableAfter }
    }
    case 'lug':
    case 'wire': {
      const conductor = idOf('conductor', address.conductor)
      const point = pointOf(address.conductor, address.point)
      return conductor === null || point === null ? null : { ...address, conductor, point }
    }
    case 'earthPath': {
      const part = renamedPart(address.part, naming)
      return part && { ...address, part }
    }
    default:
      return null
  }
}

/** The address text of a part under its other name; null where it has none or the text names no part. */
export function readdressPart(text: string, naming: Renaming): string | null {
  const address = parsePartAddress(text)
  const renamed = address && renamedPart(address, naming)
  return renamed && writePartAddress(renamed)
}

/** The same for a joint; null also for joints with an address of their own. */
export function readdressJoint(text: string, naming: Renaming): string | null {
  const address = parseJointAddress(text)
  const renamed = address && renamedJoint(address, naming)
  return renamed && writeJointAddress(renamed)
}
