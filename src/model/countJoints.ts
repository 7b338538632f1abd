import { jointsOfType, partsOfType } from './pattern.ts'
import { byId } from './queries/byId.ts'
import { tableCount } from './queries/tablePosition.ts'
import type { Drawing } from './schema/drawing.ts'
import type { Conductor } from './schema/equipment.ts'
import type { TableType } from './schema/tableType.ts'

/** Indices of a conductor's points that are parts: its first and last point and every landing. */
export function conductorStops(conductor: Conductor): number[] {
  const last = conductor.points.length - 1
  const stops: number[] = []
  conductor.points.forEach((point, k) => {
    if (k === 0 || k === last || point.landing) stops.push(k)
  })
  return stops
}

/** A figure for all tables of a drawing from one per type: O(runs), whatever the number of tables. */
function overTables(drawing: Drawing, perTable: (type: TableType) => number): number {
  const types = byId(drawing.tableTypes)
  const perType = new Map<string, number>()
  for (const [id, type] of types) perType.set(id, perTable(type))
  let total = 0
  for (const row of drawing.rows) {
    for (const run of row.runs) total += run.count * (perType.get(run.type) ?? 0)
  }
  return total
}

/**
 * Number of joints that a drawing expands to, earth paths included, by arithmetic on runs: nothing is
 * expanded. Tables of an unknown type count as none. Exact up to 2^53, far above the limit.
 */
export function countJoints(drawing: Drawing): number {
  let total = overTables(drawing, jointsOfType)
  for (const row of drawing.rows) total += Math.max(0, tableCount(row) - 1) * row.links.count
  for (const conductor of drawing.conductors) {
    const lugs = conductor.points.reduce((sum, point) => sum + (point.landing ? 1 : 0), 0)
    total += lugs + conductorStops(conductor).length - (conductor.closed ? 0 : 1)
  }
  total += drawing.electrodes.length + drawing.extraJoints.length
  for (const { found } of drawing.asBuilt) if (found.form === 'jointAdded') total += 1
  return total
}

/** Number of parts that a drawing expands to, remote earth not counted. */
export function countParts(drawing: Drawing): number {
  let total = overTables(drawing, partsOfType)
  for (const conductor of drawing.conductors) total += conductorStops(conductor).length
  return total + drawing.enclosures.length + drawing.earthBars.length + drawing.electrodes.length
}
