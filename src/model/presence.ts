import type { JointAddress, LocalPart, PartAddress } from './address.ts'
import { writePartAddress } from './address.ts'
import { conductorStops } from './countJoints.ts'
import { jointsBetween, partExistsInType } from './pattern.ts'
import { byId } from './queries/byId.ts'
import { findTable } from './queries/tablePosition.ts'
import type { Drawing } from './schema/drawing.ts'
import type { Conductor } from './schema/equipment.ts'
import type { TableType } from './schema/tableType.ts'

/** The type of a table; null where the row, the table or the type does not exist. O(log runs). */
export function typeOfTable(drawing: Drawing, rowId: number, table: number): TableType | null {
  const row = byId(drawing.rows).get(rowId)
  const placed = row && findTable(row, table)
  return (placed && byId(drawing.tableTypes).get(placed.type)) ?? null
}

function stopOf(conductor: Conductor, point: number): number {
  const at = conductor.points.findIndex((p) => p.id === point)
  const last = conductor.points.length - 1
  return at === 0 || at === last || (at > 0 && conductor.points[at].landing) ? at : -1
}

/** Whether a drawing has this part; by arithmetic on the table type, without expanding anything. */
export function partExists(drawing: Drawing, address: PartAddress): boolean {
  switch (address.at) {
    case 'table': {
      const type = typeOfTable(drawing, address.row, address.table)
      return type !== null && partExistsInType(type, address.part)
    }
    case 'enclosure':
      return byId(drawing.enclosures).has(address.id)
    case 'earthBar':
      return byId(drawing.earthBars).has(address.id)
    case 'electrode':
      return byId(drawing.electrodes).has(address.id)
    case 'conductor': {
      const conductor = byId(drawing.conductors).get(address.id)
      return conductor !== undefined && stopOf(conductor, address.point) >= 0
    }
    case 'remoteEarth':
      return true
  }
}

/** Whether a drawing has this joint, joints found as built among them. */
export function jointExists(drawing: Drawing, address: JointAddress): boolean {
  switch (address.at) {
    case 'table': {
      const type = typeOfTable(drawing, address.row, address.table)
      return type !== null && jointsBetween(type, address.from, address.to) >= address.parallel
    }
    case 'row': {
      const row = byId(drawing.rows).get(address.row)
      if (!row || address.jumper > row.links.count) return false
      const before = findTable(row, address.tableBefore)
      const after = findTable(row, address.tableAfter)
      return before !== null && after !== null && after.position === before.position + 1
    }
    case 'lug': {
      const conductor = byId(drawing.conductors).get(address.conductor)
      return conductor?.points.some((point) => point.id === address.point && point.landing !== null) ?? false
    }
    case 'wire': {
      const conductor = byId(drawing.conductors).get(address.conductor)
      if (!conductor) return false
      const stop = stopOf(conductor, address.point)
      return stop >= 0 && (conductor.closed || stop < conductor.points.length - 1)
    }
    case 'extra':
      return byId(drawing.extraJoints).has(address.id)
    case 'asBuilt':
      return byId(drawing.asBuilt).get(address.id)?.found.form === 'jointAdded'
    case 'earthPath': {
      const { part } = address
      if (!partExists(drawing, part)) return false
      if (part.at === 'electrode') return true
      if (part.at !== 'table' || part.part.of !== 'post') return false
      return Boolean(typeOfTable(drawing, part.row, part.table)?.posts?.soil)
    }
  }
}

const clamp = (value: number, most: number) => Math.min(Math.max(value, 1), most)

function nearestInType(type: TableType, part: LocalPart): LocalPart | null {
  const stations = type.modules.across + 1
  switch (part.of) {
    case 'frame': {
      const { high, across } = type.modules
      return { of: 'frame', high: clamp(part.high, high), across: clamp(part.across, across) }
    }
    case 'longMember': {
      const member = clamp(part.member, type.longMembers.length)
      return { of: 'longMember', member, station: clamp(part.station, stations) }
    }
    case 'crossMember': {
      const most = type.crossMembers?.stations.length
      return most ? { of: 'crossMember', position: clamp(part.position, most) } : null
    }
    case 'post': {
      const { posts } = type
      if (!posts) return null
      const position = clamp(part.position, posts.stations.length)
      return { of: 'post', line: clamp(part.line, posts.lines), position }
    }
  }
}

/** For a part that does not exist: the address of the closest one of its sort on the same item, or null. */
export function nearestPart(drawing: Drawing, address: PartAddress): string | null {
  if (address.at === 'table') {
    const type = typeOfTable(drawing, address.row, address.table)
    const part = type && nearestInType(type, address.part)
    return part && writePartAddress({ ...address, part })
  }
  if (address.at === 'conductor') {
    const conductor = byId(drawing.conductors).get(address.id)
    if (!conductor) return null
    const ids = conductorStops(conductor).map((k) => conductor.points[k].id)
    const distance = (id: number) => Math.abs(id - address.point)
    const point = ids.reduce((best, id) => (distance(id) < distance(best) ? id : best))
    return writePartAddress({ ...address, point })
  }
  return null
}
