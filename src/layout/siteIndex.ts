import { fail, ok } from '../base/result.ts'
import type { Result } from '../base/result.ts'
import { checkSite } from '../model/checkSite.ts'
import type { Problem } from '../model/problem.ts'
import type { Drawing } from '../model/schema/drawing.ts'
import { siteFormat, siteVersion } from '../model/schema/site.ts'
import { indexConductors } from './conductorIndex.ts'
import type { ConductorIndex } from './conductorIndex.ts'
import { idLookup } from './idLookup.ts'
import type { IdLookup } from './idLookup.ts'
import type { TablePattern } from './pattern.ts'
import { indexRows } from './rowIndex.ts'
import type { RowIndex } from './rowIndex.ts'
import { tablePattern } from './tablePattern.ts'
import type { PatternCache } from './tablePattern.ts'

/**
 * The dense numbers of all parts and joints of a drawing, as offsets: nothing is stored per part or joint of
 * a table. Rebuilt from the drawing alone in O(rows + runs + drawn items), so each thread makes its own.
 *
 * Parts 0 … partCount − 1: rows in drawing order (tables in row order, parts in pattern order), enclosures,
 * earth bars, electrodes, conductor points that are parts. Remote earth is node `partCount`.
 *
 * Joints 0 … jointCount − 1: per row its tables' joints, then its jumpers (gap by gap); per conductor point
 * its lug, then its wire; extra joints; joints added as built; earth paths of electrodes.
 */
export interface SiteIndex {
  readonly drawing: Drawing
  readonly partCount: number
  readonly jointCount: number
  readonly tableCount: number
  /** Number of remote earth among the nodes, = partCount. */
  readonly remoteEarth: number
  /** One for each table type of the drawing; null for a type that no row uses. */
  readonly patterns: readonly (TablePattern | null)[]
  readonly rows: RowIndex
  readonly enclosures: IdLookup
  readonly earthBars: IdLookup
  readonly electrodes: IdLookup
  readonly conductors: ConductorIndex
  readonly extraJoints: IdLookup
  /** Entries of drawing.asBuilt that add a joint, and the ids of all entries. */
  readonly addedJoints: Int32Array
  readonly asBuilt: IdLookup
  readonly enclosureStart: number
  readonly earthBarStart: number
  readonly electrodeStart: number
  readonly conductorStart: number
  readonly conductorJointStart: number
  readonly extraJointStart: number
  readonly addedJointStart: number
  readonly electrodeJointStart: number
}

/**
 * Numbers everything in a drawing, or says what stands in the way (at most 50 problems): whatever `checkSite`
 * finds wrong, a size beyond the limits first of all, which is computed without expanding anything.
 */
export function indexSite(drawing: Drawing, cache?: PatternCache): Result<SiteIndex, Problem[]> {
  const { revision: id } = drawing
  const wrong = checkSite({ format: siteFormat, version: siteVersion, id, name: '', drawing, record: [] })
  if (wrong.length > 0) return fail([...wrong])

  const typeNumber = new Map(drawing.tableTypes.map(({ id }, t) => [id, t]))
  const conductors = indexConductors(drawing.conductors)
  const isUsed = new Set(drawing.rows.flatMap(({ runs }) => runs.map(({ type }) => type)))
  const patterns = drawing.tableTypes.map((type) => (isUsed.has(type.id) ? tablePattern(type, cache) : null))
  const rows = indexRows(drawing.rows, typeNumber, patterns)
  const addedJoints = Int32Array.from(
    drawing.asBuilt.flatMap(({ found }, at) => (found.form === 'jointAdded' ? [at] : [])),
  )
  const enclosureStart = rows.partEnd
  const earthBarStart = enclosureStart + drawing.enclosures.length
  const electrodeStart = earthBarStart + drawing.earthBars.length
  const conductorStart = electrodeStart + drawing.electrodes.length
  const partCount = conductorStart + conductors.partCount
  const extraJointStart = rows.jointEnd + conductors.jointCount
  const addedJointStart = extraJointStart + drawing.extraJoints.length
  const electrodeJointStart = addedJointStart + addedJoints.length
  return ok({
    drawing,
    partCount,
    jointCount: electrodeJointStart + drawing.electrodes.length,
    tableCount: rows.tableCount,
    remoteEarth: partCount,
    patterns,
    rows,
    enclosures: lookupOf(drawing.enclosures),
    earthBars: lookupOf(drawing.earthBars),
    electrodes: lookupOf(drawing.electrodes),
    conductors,
    extraJoints: lookupOf(drawing.extraJoints),
    addedJoints,
    asBuilt: lookupOf(drawing.asBuilt),
    enclosureStart,
    earthBarStart,
    electrodeStart,
    conductorStart,
    conductorJointStart: rows.jointEnd,
    extraJointStart,
    addedJointStart,
    electrodeJointStart,
  })
}

function lookupOf(items: readonly { readonly id: number }[]): IdLookup {
  return idLookup(Int32Array.from(items, ({ id }) => id))
}
