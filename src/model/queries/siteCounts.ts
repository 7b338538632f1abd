import { countJoints, countParts } from '../countJoints.ts'
import { countedEntries } from '../record/effectiveRecord.ts'
import type { Site } from '../schema/site.ts'
import { byId } from './byId.ts'
import { tableCount } from './tablePosition.ts'

export interface SiteCounts {
  readonly rows: number
  readonly tables: number
  readonly modules: number
  readonly parts: number
  readonly joints: number
  readonly visits: number
  /** Readings that count: withdrawn ones are left out. */
  readonly readings: number
}

/** How much a site holds, without expanding it. O(runs + entries). */
export function siteCounts({ drawing, record }: Site): SiteCounts {
  const types = byId(drawing.tableTypes)
  let tables = 0
  let modules = 0
  for (const row of drawing.rows) {
    tables += tableCount(row)
    for (const { type, count } of row.runs) {
      const { high, across } = types.get(type)?.modules ?? { high: 0, across: 0 }
      modules += count * high * across
    }
  }
  return {
    rows: drawing.rows.length,
    tables,
    modules,
    parts: countParts(drawing),
    joints: countJoints(drawing),
    visits: countedEntries(record, 'visit').length,
    readings: countedEntries(record, 'reading').length,
  }
}
