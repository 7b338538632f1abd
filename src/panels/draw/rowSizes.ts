import { tableSize } from '../../layout/tableSize.ts'
import { byId } from '../../model/queries/byId.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import type { Row } from '../../model/schema/row.ts'

/** Length of a row, and from the start of a table to that of the next, for each of its types. O(runs × modules across). */
export function rowSizes(drawing: Drawing, row: Row): { lengthM: number; pitchesM: readonly number[] } {
  const types = byId(drawing.tableTypes)
  const pitches = new Map<string, number>()
  let lengthM = -row.gapM
  for (const { type, count } of row.runs) {
    const drawn = types.get(type)
    const pitchM = pitches.get(type) ?? (drawn ? tableSize(drawn).alongM : 0) + row.gapM
    pitches.set(type, pitchM)
    lengthM += count * pitchM
  }
  return { lengthM, pitchesM: [...pitches.values()] }
}

/** How many tables of each type a row has, in the order in which they begin. */
export function typesOfRow(row: Row): ReadonlyMap<string, number> {
  const counts = new Map<string, number>()
  for (const { type, count } of row.runs) counts.set(type, (counts.get(type) ?? 0) + count)
  return counts
}
